// What the form holds: each group of the job's schema with its fields. A key added to the schema is here the same day.

import { get } from "/static/api.js";
import { keyOf } from "/static/findings.js";
import { job } from "/static/job.js";
import { entryOf, rowsOf } from "/static/rows.js";

/** How a piece is worked on, group by group; keys that stand in no group go to the last one. */
const OF_A_PIECE = [
  ["Picture", ["name", "photo", "aspect", "show", "overlap", "reveal", "gap", "shape"]],
  ["Print", ["image", "paper", "opening", "viewing_distance"]],
  ["Mat", ["border", "weight", "mat", "border_to", "border_at", "even"]],
  ["Frame", ["frame", "turn"]],
  ["Glass and back", ["glazing", "backing", "mount", "lift", "spacer"]],
  ["Supply", ["mat_supply", "quantity"]],
];
const COMMON = new Set([
  "name", "photo", "image", "paper", "border", "weight", "mat", "frame", "turn", "glazing", "backing", "mat_supply", "quantity",
  "size", "takes", "rabbet", "rail", "depth", "have", "ply", "colour", "price", "eye", "gap", "arrange", "pieces", "printer_margin",
]); // prettier-ignore
/** Tables of the job with names of the user's own, and what one of them is called. */
export const NAMED = { frame: "Frames", paper: "Papers", board: "Boards", glazing: "Glazing", backing: "Backing", hardware: "Hardware" };

const { body: schema } = await get("/api/schema");

export function resolved(part) {
  return part?.$ref ? { ...schema.$defs[part.$ref.split("/").at(-1)], ...part, $ref: undefined } : part;
}

export function sections() {
  const parts = [];
  const piece = job.pieces.find((each) => each.file === job.chosen.piece);
  const at = piece ? keyOf(piece) : "piece[1]";
  const keys = Object.keys(schema.$defs.Piece.properties);
  const grouped = new Set(OF_A_PIECE.flatMap(([, names]) => names));
  for (const [number, [title, names]] of OF_A_PIECE.entries()) {
    const last = number === OF_A_PIECE.length - 1;
    const all = [...names.filter((name) => keys.includes(name)), ...(last ? keys.filter((name) => !grouped.has(name)) : [])];
    parts.push({ title, keys: all.flatMap((name) => fieldsOf(`${at}.${name}`, name, schema.$defs.Piece.properties[name])) });
  }
  for (const [wall, name] of wallsIn()) parts.push(table(`Wall ${name}`, wall, schema.$defs.Wall));
  for (const [kind, title] of Object.entries(NAMED)) {
    const of = resolved(schema.properties[kind]?.additionalProperties);
    if (!of) continue;
    for (const name of namesIn(kind)) parts.push(table(`${title}: ${name}`, `${kind}.${quoted(name)}`, of));
  }
  parts.push(table("Job", "", { properties: Object.fromEntries(Object.entries(schema.properties).filter(([, part]) => isPlain(part))) }));
  for (const name of Object.keys(schema.properties)) {
    const part = resolved(schema.properties[name]);
    if (part.type === "object" && part.properties) parts.push(table(label(name), name, part));
  }
  return parts;
}

const table = (title, at, of) => ({
  title,
  closed: true,
  keys: Object.entries(of.properties).flatMap(([name, part]) => fieldsOf(at ? `${at}.${name}` : name, name, part)),
});

const isPlain = (part) => !["object", "array"].includes(resolved(part).type) && !resolved(part).additionalProperties;
export const quoted = (name) => (/^[A-Za-z0-9_-]+$/.test(name) ? name : `"${name}"`);
export const label = (name) => name.replaceAll("_", " ").replace(/^./, (letter) => letter.toUpperCase());

/** Return the walls of the text, each with its name; one with a fault is there too. */
function wallsIn() {
  const found = Object.keys(job.values).map((key) => /^wall\[\d+\]/.exec(key)?.[0]).filter(Boolean);
  return [...new Set(found)].map((key) => [key, job.values[`${key}.name`] ?? key]);
}

export function namesIn(kind) {
  const found = Object.keys(job.values).map((key) => new RegExp(`^${kind}\\.("(?:[^"\\\\]|\\\\.)*"|[A-Za-z0-9_-]+)`).exec(key)?.[1]);
  return [...new Set(found.filter(Boolean))].map((name) => name.replace(/^"|"$/g, ""));
}

/** Return the fields of a key: itself, and its parts one by one where it may be a table. */
export function fieldsOf(key, name, part, depth = 0) {
  const options = (resolved(part).anyOf ?? [part]).map(resolved).flatMap((one) => one.anyOf ?? [one]).map(resolved);
  const of = options.find((one) => one.type === "object" && one.properties);
  const plain = options.filter((one) => one.type !== "object" && one.type !== "array");
  const lists = options.some((one) => one.type === "array") || (options.some((one) => one.type === "object") && !of);
  const examples = [part, resolved(part), ...(part.anyOf ?? [])].flatMap((one) => one?.examples ?? []);
  const about = { key, name, says: part.description ?? "", usual: part.default ?? inUnits(part.description), examples };
  const found = [];
  const items = options.find((one) => one.type === "array" && one.maxItems === undefined)?.items;
  const entry = items && depth === 0 ? entryOf(items, resolved) : null;
  if (entry) return [{ ...about, kind: "rows", entry, rows: rowsOf(key, plain.length > 0), common: COMMON.has(name) }];
  if (plain.length || lists) found.push({ ...about, kind: kindOf(plain, lists, examples), choices: plain.find((one) => one.enum)?.enum, common: depth === 0 && COMMON.has(name) && !(name === "gap" && key.startsWith("piece")) });
  if (of && depth === 0) {
    for (const [inner, each] of Object.entries(of.properties)) {
      found.push(...fieldsOf(`${key}.${inner}`, inner, each, 1).map((field) => ({ ...field, outer: name, common: COMMON.has(name) && name === "image" })));
    }
  }
  return found;
}

/** Return what is usual in the job's units, where a key's words tell both: "Default 3 mm, 1/8 in in an inch job." */
const inUnits = (says) => /Default (.+?), (.+?) in an inch job/.exec(says)?.[job.plan?.units === "in" ? 2 : 1];

function kindOf(plain, lists, examples) {
  if (plain.some((one) => one.enum)) return "choice";
  if (plain.some((one) => one.type === "boolean")) return "tick";
  if (examples.includes("250 mm") || examples.includes("12 mm")) return "length";
  if (plain.some((one) => one.type === "integer")) return "count";
  return plain.length ? "text" : lists ? "list" : "text";
}
