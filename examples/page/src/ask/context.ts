// The open question, for all parts of its view.
import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Question } from "./question";

export const QuestionContext = createContext<Question | undefined>(undefined);

export function useQuestion(): Question {
  const question = useContext(QuestionContext);
  if (question === undefined) throw new Error("no question is open here");
  return question;
}
