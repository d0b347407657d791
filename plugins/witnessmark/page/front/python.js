/**
 * Python in its WebAssembly module, with nothing around it: no packages, no bridge between
 * the two languages, no loader. The heap image is made and restored through this, so that
 * both see the same module; a page that starts without an image uses the runtime's own loader.
 */

/**
 * @typedef {Record<string, any>} Module  the module's functions, `_` before their C names
 * @typedef {(settings: object) => Promise<Module>} CreateModule
 *
 * @typedef {object} Settings
 * @property {CreateModule} createModule  what the runtime's script defines
 * @property {Promise<WebAssembly.Module>} wasm
 * @property {boolean} fresh              start Python, as opposed to: its memory will be brought
 * @property {number} [memory]            bytes of memory to begin with
 * @property {(module: Module) => void} prepare  called before anything runs: files
 * @property {(line: string) => void} [hear]  told what Python says on standard error
 */

/**
 * What Python finds in os.environ. The same everywhere, so that an image made on one machine
 * fits every other, and a start without an image computes alike.
 */
export const ENVIRONMENT = {
  HOME: "/home/pyodide",
  LANG: "C.UTF-8",
  PYTHONHASHSEED: "0",
};

/** ENOENT, as this runtime's C library numbers it. */
const NO_SUCH_FILE = 44;

/**
 * @param {Settings} settings
 * @returns {Promise<{module: Module, imports: Record<string, any>}>}
 */
export function createPython({ createModule, wasm, fresh, memory, prepare, hear }) {
  return new Promise((resolve, reject) => {
    /** @type {Record<string, any>} */
    let given = {};
    const settings = {
      API: { config: { jsglobals: globalThis }, runtimeEnv: surroundings() },
      thisProgram: "python",
      arguments: [],
      noInitialRun: !fresh,
      INITIAL_MEMORY: memory,
      noImageDecoding: true,
      noAudioDecoding: true,
      preRun: [prepare],
      printErr: hear,
      instantiateWasm(
        /** @type {Record<string, any>} */ imports,
        /** @type {(instance: WebAssembly.Instance, module: WebAssembly.Module) => void} */ done,
      ) {
        given = imports;
        const token = Symbol("sentinel");
        imports.sentinel = {
          create_sentinel: () => token,
          is_sentinel: (/** @type {unknown} */ value) => value === token,
        };
        wasm
          .then(async (module) => done(await WebAssembly.instantiate(module, imports), module))
          .catch(reject);
        return {};
      },
    };
    createModule(settings).then((module) => resolve({ module, imports: given }), reject);
  });
}

/**
 * A folder and those above it, unless they are there. The runtime's own way finds that out from
 * errors, and for every error the engine reads the script once more to tell where it was.
 *
 * @param {Module["FS"]} FS
 * @param {string} path
 */
export function makeFolder(FS, path) {
  let made = "";
  let { root: folder } = FS;
  for (const name of path.split("/").slice(1)) {
    made += `/${name}`;
    folder = folder.contents[name] ?? FS.mkdir(made);
  }
}

/**
 * A file whose content is fetched when Python first opens it.
 *
 * @param {Module} module
 * @param {string} path
 * @param {() => Uint8Array} content
 */
export function lateFile({ FS }, path, content) {
  makeFolder(FS, path.slice(0, path.lastIndexOf("/")));
  FS.writeFile(path, new Uint8Array(0));
  const { node } = FS.lookupPath(path);
  const ops = node.stream_ops;
  let here = false;
  node.stream_ops = {
    ...ops,
    open(/** @type {any} */ stream) {
      if (!here) {
        try {
          node.contents = content();
        } catch {
          throw new FS.ErrnoError(NO_SUCH_FILE); // an ImportError, no end of Python
        }
        node.usedBytes = node.contents.length;
        here = true;
      }
      ops.open?.(stream);
    },
  };
}

/**
 * Call a Python function that takes a text and returns one.
 *
 * @param {Module} module
 * @param {number} callee  address of the function in memory
 * @param {string} text
 * @returns {string}
 */
export function callText(module, callee, text) {
  const passed = module.stringToNewUTF8(text);
  const argument = module._PyUnicode_FromString(passed);
  module._free(passed);
  const answer = argument && module._PyObject_CallOneArg(callee, argument);
  module._Py_DecRef(argument);
  if (!answer) {
    module._PyErr_Clear();
    throw new Error("Python gave no answer");
  }
  const given = module.UTF8ToString(module._PyUnicode_AsUTF8(answer));
  module._Py_DecRef(answer);
  return given;
}

/** What the runtime's script asks about where it runs. */
function surroundings() {
  const node = typeof Reflect.get(globalThis, "process")?.versions?.node === "string";
  return {
    IN_NODE: node,
    IN_NODE_ESM: node,
    IN_NODE_COMMONJS: false,
    IN_BUN: false,
    IN_DENO: false,
    IN_SHELL: false,
    IN_SAFARI: false,
    IN_BROWSER: !node,
    IN_BROWSER_MAIN_THREAD: false,
    IN_BROWSER_WEB_WORKER: !node,
  };
}
