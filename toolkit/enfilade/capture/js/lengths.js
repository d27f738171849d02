// Lengths as people read them; the same words as Python writes.

const INCH = 25.4;

function halfUp(value) {
  return Math.floor(Math.abs(value) + 0.5 + 1e-9) * (value < 0 ? -1 : 1);
}

function sixteenths(count) {
  const sign = count < 0 ? "-" : "";
  count = Math.abs(count);
  const whole = Math.floor(count / 16);
  let part = count % 16;
  let of = 16;
  while (part && part % 2 === 0) {
    part /= 2;
    of /= 2;
  }
  if (!whole && part) return `${sign}${part}/${of}"`;
  return `${sign}${whole}${part ? ` ${part}/${of}` : ""}"`;
}

/** Write the size of a thing: inches alone to 1/16, or millimetres. */
export function showSize(mm, units) {
  return units === "metric" ? `${halfUp(mm)} mm` : sixteenths(halfUp((mm * 16) / INCH));
}

/** The steps that a hand moves by [mm]: coarse, and fine. */
export const STEPS = { us: { coarse: INCH, fine: INCH / 16 }, metric: { coarse: 10, fine: 1 } };
