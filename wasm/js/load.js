// Gets a binary from wherever it lies, and says in a sentence what stands in the way.
import { made } from "./binary.js";

const fault = (message, cause) => new Error(`floodbar: ${message}`, { cause });

/** What an object is, of whichever page or frame. */
const tagOf = (value) => Object.prototype.toString.call(value).slice(8, -1);

/** An instance of a binary from a source, or else from where it lies beside the JavaScript, and what makes another. */
export async function instanceOf(glue, source, beside) {
  const module = await moduleOf(source, beside);
  // Of its own, so that a failure leaves nothing behind.
  const instance = glue();
  try {
    await instance({ module_or_path: module });
  } catch (cause) {
    throw fault("the WebAssembly is not of the same version as the JavaScript around it: take both from one package", cause);
  }
  return [instance, () => made(glue, module)];
}

/** A source as a compiled module: an address, a response, bytes or a module, or the promise of one. */
export async function moduleOf(source, beside) {
  if (typeof WebAssembly !== "object") {
    throw fault("this runtime has no WebAssembly, or it is switched off (as by a browser's lockdown mode, or --jitless): use one that has it");
  }
  let given = await source;
  if (given === undefined) {
    try {
      given = beside();
    } catch (cause) {
      throw fault("this bundle does not know where it lies: give init() the address of the wasm file", cause);
    }
  }
  if (tagOf(given) === "WebAssembly.Module") return given;
  if (ArrayBuffer.isView(given) || ["ArrayBuffer", "SharedArrayBuffer"].includes(tagOf(given))) return compiled(given, "what was given");
  if (typeof given?.arrayBuffer !== "function" || tagOf(given) === "Request") given = await fetched(given);
  const name = given.url || "the response";
  if (given.ok === false) {
    throw fault(`${name} is answered ${given.status}, not with WebAssembly: put the wasm file there, or give init() its address`);
  }
  if (given.headers?.get("Content-Type")?.startsWith("application/wasm") && WebAssembly.compileStreaming) {
    return WebAssembly.compileStreaming(given).catch((cause) => refused(name, cause));
  }
  return compiled(await given.arrayBuffer(), name);
}

async function fetched(address) {
  const name = address?.url ?? String(address);
  try {
    return await fetch(address);
  } catch (cause) {
    const scheme = /^[a-z][a-z0-9+.-]+:/i.exec(name)?.[0] ?? globalThis.location?.protocol;
    const advice = scheme === "file:"
      ? "nothing may be fetched from files: serve the folder over http, or give init() the bytes"
      : "see that the address is right, that the server runs, and that the page's Content-Security-Policy (connect-src) allows it";
    throw fault(`${name} cannot be fetched: ${advice}`, cause);
  }
}

async function compiled(bytes, name) {
  const start = ArrayBuffer.isView(bytes) ? new Uint8Array(bytes.buffer, bytes.byteOffset, Math.min(bytes.byteLength, 4)) : new Uint8Array(bytes).subarray(0, 4);
  const found = [...start].map((byte) => byte.toString(16).padStart(2, "0")).join(" ");
  if (found !== "00 61 73 6d") throw strange(name, `expected magic word 00 61 73 6d, found ${found || "nothing"}`);
  return WebAssembly.compile(bytes).catch((cause) => refused(name, cause));
}

function strange(name, found, cause) {
  // `<` begins a page.
  const what = found.includes("found 3c") ? "an HTML page, which servers send where they have no such file" : "no WebAssembly";
  return fault(`${name} is ${what} (${found}): put the wasm file there, or give init() its address`, cause);
}

function refused(name, cause) {
  if (/content.security|unsafe-eval|\bCSP\b/i.test(cause.message)) {
    throw fault("the page's Content-Security-Policy forbids WebAssembly: add 'wasm-unsafe-eval' to its script-src", cause);
  }
  const magic = /expected magic word.*?found [0-9a-f ]+/.exec(cause.message);
  if (magic) throw strange(name, magic[0], cause);
  throw fault(`${name} is no whole WebAssembly file: ${cause.message}`, cause);
}
