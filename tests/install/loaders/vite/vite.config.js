export default {
  base: "./",
  optimizeDeps: { exclude: ["floodbar"] },
};
