// What the form holds: each group of the job's schema with its fields. A key added to the schema is here the same day.

import { keyOf } from "/static/findings.js";
import { job } from "/static/job.js";
import { fieldsOf, label, resolved, schema } from "/static/parts.js";
import { namesIn, quoted, says } from "/static/values.js";

/** How a piece is worked on, group by group; keys that stand in no group go to the last one. */
const OF_A_PIECE = [
  ["Picture", ["name", "photo", "aspect", "show", "overlap", "reveal", "gap", "shape"]],
  ["Print", ["image", "paper", "opening", "viewing_distance"]],
  ["Mat", ["border", "weight", "mat", "border_to", "border_at", "even"]],
  ["Windows", ["aperture", "rows", "gutter", "row_align", "justify"]],
  ["Frame", ["frame", "turn"]],
  ["Glass and back", ["glazing", "backing", "mount", "lift", "spacer"]],
  ["Supply", ["mat_supply", "quantity"]],
];
/** Tables of the job with names of the user's own, and what they are called. */
const NAMED = { frame: "Frames", paper: "Papers", board: "Boards", glazing: "Glazing", backing: "Backing", hardware: "Hardware" };

export function sections() {
  const parts = [];
  const at = placeOfChosen();
  const keys = Object.keys(schema.$defs.Piece.properties);
  const grouped = new Set(OF_A_PIECE.flatMap(([, names]) => names));
  for (const [number, [title, names]] of says("piece[1].") ? OF_A_PIECE.entries() : []) {
    const last = number === OF_A_PIECE.length - 1;
    const all = [...names.filter((name) => keys.includes(name)), ...(last ? keys.filter((name) => !grouped.has(name)) : [])];
    parts.push({ title, id: title, closed: title === "Windows", keys: all.flatMap((name) => fieldsOf(`${at}.${name}`, name, schema.$defs.Piece.properties[name])) });
  }
  for (const [wall, name] of wallsIn()) parts.push({ ...table(`Wall ${name}`, wall, schema.$defs.Wall), away: true });
  for (const [kind, title] of Object.entries(NAMED)) {
    const of = resolved(schema.properties[kind]?.additionalProperties);
    if (!of) continue;
    for (const name of namesIn(kind)) {
      const part = { ...table(`${title}: ${name}`, `${kind}.${quoted(name)}`, of), away: true };
      if (kind !== "hardware") part.keys.unshift({ key: part.id, name: "name", kind: "name", own: name, says: "Its name. What names it follows.", examples: [], common: true });
      parts.push(part);
    }
  }
  parts.push(table("Job", "", { properties: Object.fromEntries(Object.entries(schema.properties).filter(([, part]) => isOfTheJob(part))) }));
  for (const name of Object.keys(schema.properties)) {
    const part = resolved(schema.properties[name]);
    if (part.type === "object" && part.properties) parts.push(table(label(name), name, part));
  }
  return parts;
}

/** The place in the text of the piece in view, one with a fault that has no picture yet among them. */
function placeOfChosen() {
  if (job.chosen.at && says(`${job.chosen.at}.`)) return job.chosen.at;
  const piece = job.pieces.find((each) => each.file === job.chosen.piece);
  return piece ? keyOf(piece) : "piece[1]";
}

const table = (title, at, of) => ({
  title,
  id: at || title,
  closed: true,
  keys: Object.entries(of.properties).flatMap(([name, part]) => fieldsOf(at ? `${at}.${name}` : name, name, part)),
});

/** Whether a key stands above all tables. */
function isOfTheJob(part) {
  const one = resolved(part);
  return one.type === "array" ? !resolved(one.items).properties : one.type !== "object" && !one.additionalProperties;
}

/** Return the walls of the text, each with its name; one with a fault is there too. */
function wallsIn() {
  const found = [];
  for (let at = 1; says(`wall[${at}].`); at += 1) found.push([`wall[${at}]`, job.values[`wall[${at}].name`] ?? `wall[${at}]`]);
  return found;
}
