/** The form of job records: record/job-record.schema.json as a module; a test holds them equal. */
export const FORM = {
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "Witness Mark job record, version 1",
  "description": "What was ticked, read and entered in one job, with what came out and the revision of each page at that time. Nothing in it is markup.",
  "type": "object",
  "properties": {
    "format": {"const": "witness-mark job record"},
    "version": {"const": 1},
    "id": {"type": "string", "pattern": "^[0-9a-f]{32}$"},
    "number": {"type": "string", "minLength": 1, "maxLength": 80},
    "engine": {"type": "string", "maxLength": 80, "description": "machine and variant: LG2/canal"},
    "serial": {"type": "string", "maxLength": 80},
    "notes": {"type": "string", "maxLength": 400},
    "begun": {"$ref": "#/$defs/time"},
    "changed": {"$ref": "#/$defs/time"},
    "pages": {
      "description": "by the page's path in the handbook",
      "type": "object",
      "maxProperties": 300,
      "propertyNames": {"$ref": "#/$defs/name"},
      "additionalProperties": {"$ref": "#/$defs/page"}
    }
  },
  "required": ["format", "version", "id", "number", "engine", "serial", "notes", "begun", "changed", "pages"],
  "additionalProperties": false,
  "$defs": {
    "time": {
      "type": "string",
      "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}([.][0-9]{1,6})?Z$"
    },
    "name": {"type": "string", "minLength": 1, "maxLength": 300},
    "digest": {"type": "string", "pattern": "^([0-9a-f]{12})?$"},
    "line": {"type": "string", "maxLength": 400},
    "words": {"type": "string", "maxLength": 2000},
    "units": {"enum": ["si", "us"]},
    "rows": {
      "type": "array",
      "maxItems": 500,
      "items": {"type": "array", "maxItems": 40, "items": {"$ref": "#/$defs/line"}}
    },
    "entered": {"anyOf": [{"$ref": "#/$defs/line"}, {"$ref": "#/$defs/rows"}]},
    "page": {
      "type": "object",
      "properties": {
        "title": {"$ref": "#/$defs/line"},
        "url": {
          "description": "below the site's root",
          "type": "string",
          "maxLength": 600,
          "pattern": "^([A-Za-z0-9._~%-]+/)*[A-Za-z0-9._~%-]*$"
        },
        "steps": {"type": "integer", "minimum": 0, "maximum": 1000},
        "last": {"$ref": "#/$defs/name"},
        "ticks": {"$ref": "#/$defs/ticks"},
        "readings": {
          "type": "object",
          "maxProperties": 500,
          "propertyNames": {"$ref": "#/$defs/name"},
          "additionalProperties": {"$ref": "#/$defs/reading"}
        },
        "calculators": {
          "type": "object",
          "maxProperties": 100,
          "propertyNames": {"$ref": "#/$defs/name"},
          "additionalProperties": {"$ref": "#/$defs/calculator"}
        }
      },
      "required": ["ticks", "readings", "calculators"],
      "additionalProperties": false
    },
    "ticks": {
      "description": "by the step's anchor",
      "type": "object",
      "maxProperties": 500,
      "propertyNames": {"$ref": "#/$defs/name"},
      "additionalProperties": {
        "type": "object",
        "properties": {
          "title": {"$ref": "#/$defs/line"},
          "done": {"const": true},
          "at": {"$ref": "#/$defs/time"},
          "revision": {"$ref": "#/$defs/digest"}
        },
        "required": ["title", "done", "at", "revision"],
        "additionalProperties": false
      }
    },
    "reading": {
      "type": "object",
      "properties": {
        "title": {"$ref": "#/$defs/line"},
        "limits": {"$ref": "#/$defs/line"},
        "places": {"type": "array", "maxItems": 24, "items": {"$ref": "#/$defs/line"}},
        "request": {
          "type": "object",
          "properties": {
            "reading": {"$ref": "#/$defs/name"},
            "kind": {"$ref": "#/$defs/name"},
            "unit": {"type": "string", "maxLength": 40},
            "band": {"$ref": "#/$defs/line"},
            "most": {"$ref": "#/$defs/line"},
            "least": {"$ref": "#/$defs/line"}
          },
          "required": ["reading", "kind", "unit"],
          "additionalProperties": false
        },
        "texts": {"type": "array", "maxItems": 24, "items": {"$ref": "#/$defs/line"}},
        "units": {"$ref": "#/$defs/units"},
        "outcome": {"anyOf": [{"type": "null"}, {"$ref": "#/$defs/judged"}]},
        "at": {"$ref": "#/$defs/time"},
        "revision": {"$ref": "#/$defs/digest"}
      },
      "required": ["title", "limits", "places", "request", "texts", "units", "outcome", "at", "revision"],
      "additionalProperties": false
    },
    "verdict": {"enum": ["", "in", "near", "out"]},
    "judged": {
      "type": "object",
      "properties": {
        "reading": {"$ref": "#/$defs/name"},
        "units": {"$ref": "#/$defs/units"},
        "complete": {"type": "boolean"},
        "readings": {
          "type": "array",
          "maxItems": 24,
          "items": {
            "type": "object",
            "properties": {
              "text": {"$ref": "#/$defs/line"},
              "error": {
                "anyOf": [
                  {"type": "null"},
                  {
                    "type": "object",
                    "properties": {
                      "code": {"$ref": "#/$defs/line"},
                      "message": {"$ref": "#/$defs/words"}
                    },
                    "required": ["code", "message"],
                    "additionalProperties": false
                  }
                ]
              },
              "verdict": {"$ref": "#/$defs/verdict"},
              "said": {"$ref": "#/$defs/words"},
              "value": {"type": "number"},
              "unit": {"type": "string", "maxLength": 40}
            },
            "required": ["text", "error", "verdict", "said"],
            "additionalProperties": false
          }
        },
        "verdict": {"$ref": "#/$defs/verdict"},
        "limits": {"$ref": "#/$defs/line"},
        "spread": {"$ref": "#/$defs/line"},
        "given": {
          "description": "what calculators of the page take from the reading",
          "type": "object",
          "properties": {
            "each": {"type": "array", "maxItems": 24, "items": {"$ref": "#/$defs/line"}},
            "mean": {"$ref": "#/$defs/line"}
          },
          "required": ["each", "mean"],
          "additionalProperties": false
        }
      },
      "required": ["reading", "units", "complete", "readings", "verdict", "limits", "spread"],
      "additionalProperties": false
    },
    "calculator": {
      "type": "object",
      "properties": {
        "calculator": {"$ref": "#/$defs/name"},
        "title": {"$ref": "#/$defs/line"},
        "typed": {
          "description": "what the reader entered himself",
          "type": "object",
          "maxProperties": 100,
          "propertyNames": {"$ref": "#/$defs/name"},
          "additionalProperties": {"$ref": "#/$defs/entered"}
        },
        "tools": {
          "description": "tools of the shop that the reader chose, by their place; empty for none",
          "type": "object",
          "maxProperties": 20,
          "propertyNames": {"$ref": "#/$defs/name"},
          "additionalProperties": {"$ref": "#/$defs/line"}
        },
        "units": {"$ref": "#/$defs/units"},
        "outcome": {"anyOf": [{"type": "null"}, {"$ref": "#/$defs/worked"}]},
        "maths": {"$ref": "#/$defs/digest"},
        "at": {"$ref": "#/$defs/time"},
        "revision": {"$ref": "#/$defs/digest"}
      },
      "required": ["calculator", "title", "typed", "units", "outcome", "maths", "at", "revision"],
      "additionalProperties": false
    },
    "worked": {
      "type": "object",
      "properties": {
        "complete": {"type": "boolean"},
        "entries": {
          "description": "every entry, the page's own too: enough to work it out again",
          "type": "object",
          "maxProperties": 100,
          "propertyNames": {"$ref": "#/$defs/name"},
          "additionalProperties": {
            "type": "object",
            "properties": {
              "label": {"$ref": "#/$defs/line"},
              "text": {"$ref": "#/$defs/entered"},
              "display": {"$ref": "#/$defs/line"},
              "active": {"type": "boolean"},
              "tool": {"description": "the tool that settles it", "$ref": "#/$defs/line"}
            },
            "required": ["label", "text", "display", "active"],
            "additionalProperties": false
          }
        },
        "results": {
          "type": "array",
          "maxItems": 200,
          "items": {
            "type": "object",
            "properties": {
              "name": {"$ref": "#/$defs/name"},
              "label": {"$ref": "#/$defs/line"},
              "display": {"$ref": "#/$defs/words"},
              "value": {"type": "number"},
              "unit": {"type": "string", "maxLength": 40},
              "columns": {
                "type": "array",
                "maxItems": 40,
                "items": {
                  "type": "object",
                  "properties": {
                    "label": {"$ref": "#/$defs/line"},
                    "unit": {"type": "string", "maxLength": 40}
                  },
                  "required": ["label", "unit"],
                  "additionalProperties": false
                }
              },
              "rows": {"$ref": "#/$defs/rows"},
              "lead": {"type": "boolean"},
              "seldom": {"type": "boolean"}
            },
            "required": ["name", "label", "lead", "seldom"],
            "additionalProperties": false
          }
        },
        "findings": {
          "type": "array",
          "maxItems": 100,
          "items": {
            "type": "object",
            "properties": {
              "level": {"enum": ["note", "caution", "stop"]},
              "code": {"$ref": "#/$defs/name"},
              "text": {"$ref": "#/$defs/words"}
            },
            "required": ["level", "code", "text"],
            "additionalProperties": false
          }
        }
      },
      "required": ["complete", "entries", "results", "findings"],
      "additionalProperties": false
    }
  }
};
