// Lengths as people write them, so far as the arrow keys need them: a number, perhaps with a fraction, and a unit.

const LENGTH = /^\s*(?:(\d+(?:\.\d+)?|\.\d+)(?:[ -](\d+)\/(\d+))?|(\d+)\/(\d+))\s*([a-z″"]*)\s*$/i;
const MM = { mm: 1, cm: 10, m: 1000, in: 25.4, '"': 25.4, "″": 25.4 };

/** Read a length as the job has it: its millimetres and the unit it is written in; null where it is no plain length. */
function read(text, units) {
  const found = LENGTH.exec(String(text));
  if (!found) return null;
  const [, whole, over, under, alone, below, unit] = found;
  const factor = MM[(unit || units).toLowerCase()];
  if (!factor) return null;
  const value = whole !== undefined ? Number(whole) + (over ? over / under : 0) : alone / below;
  return { mm: value * factor, factor, unit };
}

/** Return the millimetres of a length; null where it is no plain length. */
export const mmOf = (text, units) => read(text, units)?.mm ?? null;

/** Return a length moved by so many steps of the job, written as it was; null where the text is no plain length. */
export function moved(text, steps, step, units) {
  const length = read(text, units);
  if (!length) return null;
  const mm = Math.max(0, length.mm + steps * step);
  return written(mm, length.factor, step) + (length.unit ? ` ${length.unit}` : "");
}

/** Write millimetres in a unit: inches as fractions of the step, anything else as a decimal. */
export function written(mm, factor, step) {
  const value = mm / factor;
  if (factor !== 25.4) return String(Number(value.toFixed(4)));
  const parts = Math.round(25.4 / step) || 16;
  const count = Math.round(value * parts);
  const whole = Math.floor(count / parts);
  let over = count % parts;
  let under = parts;
  while (over && over % 2 === 0 && under % 2 === 0) [over, under] = [over / 2, under / 2];
  return over ? `${whole ? `${whole} ` : ""}${over}/${under}` : String(whole);
}

/** Write millimetres as the job does, with its unit. */
export const asLength = (mm, step, units) => `${written(mm, MM[units], step)} ${units}`;
