// The open form, for all parts of its view.
import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Filling } from "./filling";
import { Question } from "./question";

export const FillingContext = createContext<Filling | undefined>(undefined);

export function useFilling(): Filling {
  const filling = useContext(FillingContext);
  if (filling === undefined) throw new Error("no form is open here");
  return filling;
}

/** The open form where it is a single question's. */
export function useQuestion(): Question {
  const filling = useFilling();
  if (!(filling instanceof Question)) throw new Error("no question is open here");
  return filling;
}
