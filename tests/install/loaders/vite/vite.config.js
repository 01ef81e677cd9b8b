export default {
  base: "./",
  optimizeDeps: { exclude: ["floodbar"] },
  worker: { format: "es" },
};
