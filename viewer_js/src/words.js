// Numbers in the words of the shop: the sheet's unit first, the other one beside it.
const INCH = 25.4;
const FINEST = 32; // of an inch, what a good rule shows

function fraction(inches) {
  const parts = Math.round(Math.abs(inches) * FINEST);
  let [top, under] = [parts % FINEST, FINEST];
  while (top && top % 2 === 0) [top, under] = [top / 2, under / 2];
  const whole = Math.floor(parts / FINEST);
  const text = top ? `${whole ? `${whole} ` : ""}${top}/${under}` : `${whole}`;
  const off = Math.abs(inches) - parts / FINEST;
  return Math.abs(off) < 0.0005 ? text : `${text} ${off < 0 ? "−" : "+"}${Math.abs(off).toFixed(3)}`;
}

export function long(mm, units) {
  const inches = mm / INCH;
  if (units === "mm") return `${mm.toFixed(1)} mm (${inches.toFixed(3)} in)`;
  return `${inches.toFixed(3)} in (${fraction(inches)}) · ${mm.toFixed(1)} mm`;
}

export function short(mm, units) {
  return units === "mm" ? `${mm.toFixed(1)} mm` : `${(mm / INCH).toFixed(2)} in`;
}

export function both(mm, units) {
  const inches = `${(mm / INCH).toFixed(3)} in`;
  return units === "mm" ? `${mm.toFixed(2)} mm (${inches})` : `${inches} (${mm.toFixed(2)} mm)`;
}

// A finding's value or limit: lengths in both units, others as the summary has them.
export function quantity(value, unit, units) {
  if (value === null || value === undefined) return "";
  if (unit === "mm") return both(value, units);
  return `${Number(value.toPrecision(5))} ${unit === "1" ? "" : unit}`.trim();
}

export const LEVELS = {
  fail: ["✕", "FAIL"],
  warn: ["!", "WARN"],
  not_checked: ["?", "NOT CHECKED"],
  pass: ["✓", "PASS"],
};
