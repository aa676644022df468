import { describe, expect, test } from "vitest";
import { nextOrder, type Ranked } from "../../../dashboard/display/order.ts";

const station = (id: string, rank: number): Ranked => ({ id, rank, name: id });
const ids = (list: readonly Ranked[]) => list.map((s) => s.id).join(" ");

describe("order of the tiles", () => {
  const first = nextOrder([], [station("a", 3), station("b", 0), station("c", 3), station("d", 1)]);

  test("the neediest comes first, the rest by name", () => {
    expect(ids(first)).toBe("b d a c");
    expect(ids(nextOrder([], [station("Bay 10", 3), station("Bay 9", 3)]))).toBe("Bay 9 Bay 10");
  });

  test("a need that goes away moves nothing", () => {
    const calm = [station("a", 3), station("b", 3), station("c", 3), station("d", 1)];
    expect(ids(nextOrder(first, calm))).toBe("b d a c");
  });

  test("a new need moves its tile up, and only then the order is made anew", () => {
    const calm = nextOrder(first, [
      station("a", 3),
      station("b", 3),
      station("c", 3),
      station("d", 1),
    ]);
    const needy = nextOrder(calm, [
      station("a", 3),
      station("b", 3),
      station("c", 0),
      station("d", 1),
    ]);
    expect(ids(needy)).toBe("c d b a");
  });

  test("a need that comes back counts as new", () => {
    const gone = nextOrder(first, [
      station("a", 0),
      station("b", 3),
      station("c", 3),
      station("d", 3),
    ]);
    const back = nextOrder(gone, [
      station("a", 3),
      station("b", 0),
      station("c", 3),
      station("d", 3),
    ]);
    expect(ids(back).startsWith("b")).toBe(true);
  });

  test("stations that come and go", () => {
    const more = nextOrder(first, [...first, station("e", 3)]);
    expect(ids(more)).toBe("b d a c e");
    expect(ids(nextOrder(more, [station("a", 3), station("e", 3)]))).toBe("a e");
  });
});
