module.exports = {
  mode: "production",
  entry: "./main.js",
  output: { filename: "main.js" },
  // The wasm files are larger than it likes.
  performance: { hints: false },
};
