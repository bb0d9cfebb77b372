import { expect, test } from "vitest";
import { thin } from "../../../app/worker/thin.ts";
import { Seeded } from "../../core/force/synthetic/seeded.ts";

const evenly = (index: number) => index / 1000;

test("keeps the first, least, greatest and last sample of every pixel column", () => {
  const random = new Seeded(20_251);
  const value = Float64Array.from({ length: 10_000 }, () => random.normal());
  const columns = 100;
  const { x, y } = thin(value, evenly, { first: 0, last: value.length - 1, columns });

  for (let column = 0; column < columns; column++) {
    const part = value.slice(column * 100, column * 100 + 100);
    const shown = [...y].filter((_, i) => Math.floor(Math.round(x[i]! * 1000) / 100) === column);
    expect(Math.min(...shown)).toBe(Math.min(...part));
    expect(Math.max(...shown)).toBe(Math.max(...part));
    expect(shown[0]).toBe(part[0]);
    expect(shown.at(-1)).toBe(part.at(-1));
    expect(shown.length).toBeLessThanOrEqual(4);
  }
});

test("never goes back in time, so the line crosses nothing that the trace does not", () => {
  const value = Float64Array.from({ length: 5003 }, (_, i) => Math.sin(i / 7) * i);
  const { x } = thin(value, evenly, { first: 11, last: 4990, columns: 123 });
  for (let i = 1; i < x.length; i++) expect(x[i]).toBeGreaterThan(x[i - 1]!);
  expect(x[0]).toBe(0.011);
  expect(x.at(-1)).toBe(4.99);
});

test("a single missing sample among thousands still breaks the line", () => {
  const value = new Float64Array(8000).fill(3);
  value[4321] = Number.NaN;
  const { x, y } = thin(value, evenly, { first: 0, last: 7999, columns: 80 });
  const broken = [...y].flatMap((v, i) => (Number.isNaN(v) ? [x[i]] : []));
  expect(broken).toEqual([4.321]);
});

test("gives every sample where the screen has room for them", () => {
  const value = Float64Array.from([5, 1, 4, 2, 3]);
  const { x, y } = thin(value, evenly, { first: 1, last: 3, columns: 10 });
  expect([...y]).toEqual([1, 4, 2]);
  expect([...x]).toEqual([0.001, 0.002, 0.003]);
});

test("an empty window gives an empty line", () => {
  expect(thin(new Float64Array(5), evenly, { first: 3, last: 2, columns: 10 }).x.length).toBe(0);
});
