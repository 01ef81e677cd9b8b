// What can be taken back: the states of the order as texts, and where in them we are.
import { computed, signal } from "@preact/signals";

/** As many steps can be taken back. */
const MOST = 200;
/** What is typed in one field without a longer pause is one step. */
const PAUSE = 1500;

export class Steps {
  private readonly past = signal<string[]>([]);
  private readonly future = signal<string[]>([]);
  readonly back = computed(() => this.past.value.length > 0);
  readonly forth = computed(() => this.future.value.length > 0);
  private hand?: object;
  private last = 0;

  constructor(private present: string) {}

  /** A new state; `hand` is the field in which it came about, `rewritten` says that it only writes otherwise what was typed there. */
  note(state: string, hand?: object, rewritten = false): void {
    if (state === this.present) return;
    const now = performance.now();
    const goesOn = hand !== undefined && hand === this.hand && (rewritten || now - this.last < PAUSE);
    if (!goesOn) this.past.value = [...this.past.peek(), this.present].slice(-MOST);
    this.future.value = [];
    this.present = state;
    this.hand = hand;
    this.last = now;
  }

  undo = (): string | undefined => this.move(this.past, this.future);
  redo = (): string | undefined => this.move(this.future, this.past);

  private move(from: typeof this.past, to: typeof this.past): string | undefined {
    const state = from.peek().at(-1);
    if (state === undefined) return undefined;
    from.value = from.peek().slice(0, -1);
    to.value = [...to.peek(), this.present];
    this.present = state;
    this.hand = undefined;
    return state;
  }
}
