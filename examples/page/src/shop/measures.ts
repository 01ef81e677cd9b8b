// Which measurement gives which numbers of which row of the stock. The one table of it.

export interface Measure {
  id: string;
  /** Where the request names the row. */
  at?: string;
  /** The shelf of the row, where the request names none: of several rows one is chosen where it is kept. */
  shelf?: string;
  /** Members of the row by their pointers, and where their values stand. */
  takes: { [at: string]: string };
}

export const MEASURES: Measure[] = [
  { id: "ink.weigh", at: "/ink", takes: { "/release_fraction": "/answer/release_fraction" } },
  { id: "dryer.fit", at: "/dryer", takes: { "/zones": "/answer/dryer/zones", "/fitted": "/answer/dryer/fitted" } },
  {
    id: "flash.fit", at: "/flash", takes: {
      "/exchange_fraction": "/answer/flash/exchange_fraction", "/flux": "/answer/flash/flux", "/transfer": "/answer/flash/transfer", "/fitted": "/answer/flash/fitted",
    },
  },
  {
    id: "exposure.step", shelf: "shop", takes: {
      "/exposure/time": "/request/time", "/exposure/solid_step": "/request/solid_step", "/exposure/wanted_step": "/request/wanted_step",
      "/exposure/density_per_step": "/request/density_per_step",
    },
  },
  { id: "ink.hiding", shelf: "ink", takes: { "/scattering": "/answer/scattering", "/absorption": "/answer/absorption" } },
  { id: "artwork.tone", shelf: "shop", takes: { "/dot_growth": "/answer/growth" } },
  // No number of the stock is a screen's tension: the readings are kept as they are.
  { id: "tension.assess", takes: {} },
];
/** What is not measured but known: typed into the row's own form. */
export const TYPED = ["rates"];

export const measureOf = (id: string): Measure | undefined => MEASURES.find((measure) => measure.id === id);
