// Which fields a view of the form shows: all of them, unless it shows a part of the form only.
import { createContext, type FunctionComponent } from "preact";
import { useContext } from "preact/hooks";
import type { Node, Part } from "../../model/nodes";

/** A view in the place of some fields of a record. */
export interface Mount { names: string[]; View: FunctionComponent<{ node: Part }> }

export interface Here {
  /** Whether the field, or one within it, is shown. */
  shows: (node: Node) => boolean;
  /** Whether it is at home here; if not, only what is shown within it is. */
  owns: (node: Node) => boolean;
  /** Whether it stands before all that has a usual value. */
  first: (node: Node) => boolean;
  mount: (node: Part) => Mount | undefined;
}

export const HereContext = createContext<Here>({ shows: () => true, owns: () => true, first: () => false, mount: () => undefined });
export const useHere = (): Here => useContext(HereContext);
