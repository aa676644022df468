import { type Signal, signal } from "@preact/signals";
import { sightOf } from "./sight.ts";

/** Time a frame that drawing tiles anew may take, ms; what is left over waits for the next frame. */
const BUDGET_MS = 2;

const turns = new Map<string, Signal<number>>();
const waiting = new Set<string>();
let asked = false;

/** Counts up each time that a tile is to be drawn anew. */
export function turnOf(id: string): Signal<number> {
  let turn = turns.get(id);
  if (!turn) {
    turn = signal(0);
    turns.set(id, turn);
  }
  return turn;
}

/** Puts a tile in the queue; those in sight come first. */
export function drawSoon(id: string): void {
  waiting.add(id);
  if (!asked) requestAnimationFrame(draw);
  asked = true;
}

function nextInLine(): string | undefined {
  for (const id of waiting) if (sightOf(id).peek()) return id;
  const [first] = waiting;
  return first;
}

function draw(): void {
  const began = performance.now();
  const one = () => {
    const id = nextInLine();
    if (id === undefined) {
      asked = false;
      return;
    }
    if (performance.now() - began > BUDGET_MS) {
      requestAnimationFrame(draw);
      return;
    }
    waiting.delete(id);
    turnOf(id).value++;
    // Components are drawn in a microtask: the next tile after it, so that its time is counted.
    queueMicrotask(one);
  };
  one();
}
