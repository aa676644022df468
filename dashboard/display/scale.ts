/** Step of a printed scale that gives 4 to 9 numbers. */
export function scaleStep(span: number): number {
  const raw = span / 8;
  const power = 10 ** Math.floor(Math.log10(raw));
  for (const step of [1, 2, 5, 10]) if (step * power >= raw * 0.999) return step * power;
  return 10 * power;
}

/** Marks of a scale from `min` to `max`: numbered ones and small ones halfway between. */
export function scaleMarks(min: number, max: number): { value: number; numbered: boolean }[] {
  const step = scaleStep(max - min);
  const marks: { value: number; numbered: boolean }[] = [];
  const half = step / 2;
  for (let k = Math.ceil(min / half - 1e-9); k * half <= max + 1e-9; k++) {
    marks.push({ value: Number((k * half).toPrecision(12)), numbered: k % 2 === 0 });
  }
  return marks;
}

/** Place of a value along a scale, 0 to 1; a value off the scale is held at its end. */
export function scalePlace(value: number, min: number, max: number): number {
  return Math.min(1, Math.max(0, (value - min) / (max - min)));
}
