// A plain JavaScript value as JSON text. Only what JSON has goes in: a Date is not an empty object, a BigInt no number, and
// what throws when it is read is an error of the request. Each part is read once; limits of size and depth are the library's.
import { DEEPEST, LONGEST, MOST_ENTRIES } from "./limits.js";

/** The text; `refuse(field, message)` throws the error of what JSON does not have. */
export function textOf(value, refuse) {
  let length = 0; // Of what is written so far, commas aside.
  const path = [];
  const fault = (message) => {
    const field = path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
    refuse(field, message);
  };
  const read = (action) => {
    try {
      return action();
    } catch {
      return fault("reading the value threw an exception");
    }
  };

  function part(value, depth) {
    // What comes after too much is not looked at any more; the library refuses the text for its length.
    if (length > LONGEST) return "null";
    if (typeof value === "object" && value !== null) return compound(value, depth + 1);
    const text = single(value);
    length += text.length;
    return text;
  }

  function single(value) {
    switch (typeof value) {
      case "undefined":
      case "object": return "null";
      case "number":
        if (!Number.isFinite(value)) fault(`the number is ${value}: only finite numbers`);
        // falls through
      case "boolean":
      case "string": return JSON.stringify(value);
      default: return stranger();
    }
  }

  function compound(value, depth) {
    const isArray = read(() => Array.isArray(value));
    if (!isArray && !read(() => isPlain(value))) return stranger();
    // One level more is still written, so that the library refuses it; and one entry more below.
    if (depth > DEEPEST) return "[]";
    length += 2;
    const parts = [];
    if (isArray) {
      const count = Math.min(read(() => value.length), MOST_ENTRIES + 1);
      for (let index = 0; index < count; index += 1) {
        path.push(index);
        parts.push(part(read(() => value[index]), depth));
        path.pop();
      }
      return `[${parts.join(",")}]`;
    }
    for (const key of read(() => Object.keys(value))) {
      path.push(key);
      const member = read(() => value[key]);
      // An undefined member is an absent one.
      if (member !== undefined) parts.push(`${JSON.stringify(key)}:${part(member, depth)}`);
      path.pop();
    }
    return `{${parts.join(",")}}`;
  }

  const stranger = () => fault("not JSON: only plain objects, arrays, texts, numbers, true, false and null, not a Map, Date, BigInt, function, symbol or instance of a class");

  return part(value, 0);
}

/** Made by braces, not by a class: its prototype is none, or the one at the root, of whichever page or frame. */
function isPlain(value) {
  const parent = Object.getPrototypeOf(value);
  return parent === null || Object.getPrototypeOf(parent) === null;
}
