// Counts what passed, and closes with the line that the runner reads.
let passed = 0;
let failed = 0;

export async function check(name, body) {
  try {
    await body();
    passed += 1;
  } catch (error) {
    failed += 1;
    console.log(`FAILED ${name}: ${error.message.split("\n")[0]}`);
  }
}

export function close() {
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed > 0 || passed === 0 ? 1 : 0;
}
