// What runs in the worker of a browser: calls wait until the binary before them is there.
import * as api from "./api.js";
import { use } from "./binary.js";
import { glue } from "./floodbar.js";
import { instanceOf } from "./load.js";
import { server } from "./serve.js";

const reply = server(api);
let loading;

globalThis.onmessage = async ({ data }) => {
  if (data.module) {
    loading = instanceOf(glue, data.module).then((loaded) => use(...loaded));
    // The call after it tells of a failure.
    loading.catch(() => {});
    return;
  }
  try {
    await loading;
  } catch (error) {
    globalThis.postMessage({ thrown: error });
    return;
  }
  const replied = reply(data);
  if (replied !== undefined) globalThis.postMessage(...replied);
};
