/**
 * Whether a file has the published form of a job record. The form is JSON Schema, of which only
 * these words are used; the command line reads the same form (record/schema.py).
 */

import { FORM } from "./job-record-form.js";

/** @typedef {Record<string, any>} Rule */

/** Nothing is looked into deeper than this; a record is nine tables and lists deep. */
const DEEPEST = 20;

/**
 * The first place at which a value is not of the form, in words; empty when it is.
 * @param {unknown} value
 * @param {Rule} [rule]
 * @param {string} [field]
 * @param {number} [depth]
 * @returns {string}
 */
export function notOfTheForm(value, rule = FORM, field = "", depth = 0) {
  if (depth > DEEPEST) {
    return `${field} is nested too deep`;
  }
  if ("$ref" in rule) {
    const name = rule.$ref.replace("#/$defs/", "");
    return notOfTheForm(value, /** @type {Rule} */ (FORM.$defs)[name], field, depth);
  }
  if ("anyOf" in rule) {
    const wrong = rule.anyOf.map((/** @type {Rule} */ one) => notOfTheForm(value, one, field, depth));
    return wrong.includes("") ? "" : wrong.at(-1);
  }
  if (!rightItself(value, rule)) {
    return `'${field}' is not what it should be`;
  }
  if (isTable(value)) {
    return tableWrong(value, rule, field, depth);
  }
  if (Array.isArray(value) && "items" in rule) {
    return firstWrong(
      value.map((item, place) => () =>
        notOfTheForm(item, rule.items, `${field}[${place + 1}]`, depth + 1),
      ),
    );
  }
  return "";
}

/** @param {(() => string)[]} looks */
function firstWrong(looks) {
  for (const look of looks) {
    const wrong = look();
    if (wrong !== "") {
      return wrong;
    }
  }
  return "";
}

/** Type, constant and size. @param {unknown} value @param {Rule} rule */
function rightItself(value, rule) {
  const types = /** @type {Record<string, boolean>} */ ({
    object: isTable(value),
    array: Array.isArray(value),
    string: typeof value === "string",
    boolean: typeof value === "boolean",
    null: value === null,
    integer: Number.isInteger(value),
    number: Number.isFinite(value),
  });
  if ("type" in rule && !types[rule.type]) {
    return false;
  }
  if (("const" in rule && value !== rule.const) || ("enum" in rule && !rule.enum.includes(value))) {
    return false;
  }
  if (typeof value === "string") {
    const { minLength = 0, maxLength = Infinity, pattern = "" } = rule;
    const long = [...value].length;
    return long >= minLength && long <= maxLength && new RegExp(pattern).test(value);
  }
  if (typeof value === "number") {
    return value >= (rule.minimum ?? -Infinity) && value <= (rule.maximum ?? Infinity);
  }
  if (isTable(value)) {
    return Object.keys(value).length <= (rule.maxProperties ?? Infinity);
  }
  return !Array.isArray(value) || value.length <= (rule.maxItems ?? Infinity);
}

/** @param {Record<string, unknown>} value @param {Rule} rule @param {string} field @param {number} depth */
function tableWrong(value, rule, field, depth) {
  const known = rule.properties ?? {};
  const missing = (rule.required ?? []).find((/** @type {string} */ name) => !Object.hasOwn(value, name));
  if (missing !== undefined) {
    return `'${below(field, missing)}' is missing`;
  }
  const others = rule.additionalProperties ?? true;
  return firstWrong(
    Object.entries(value).map(([name, part]) => () => {
      const place = below(field, name);
      if ("propertyNames" in rule && notOfTheForm(name, rule.propertyNames) !== "") {
        return `the name '${place}' is not what it should be`;
      }
      if (Object.hasOwn(known, name)) {
        return notOfTheForm(part, known[name], place, depth + 1);
      }
      if (others === false) {
        return `'${place}' does not belong there`;
      }
      return others === true ? "" : notOfTheForm(part, others, place, depth + 1);
    }),
  );
}

/** @param {string} field @param {string} name */
function below(field, name) {
  const part = name.length > 60 ? `${name.slice(0, 60)}…` : name;
  return field === "" ? part : `${field}.${part}`;
}

/** @param {unknown} value @returns {value is Record<string, unknown>} */
function isTable(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
