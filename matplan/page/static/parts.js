// A part of the job's schema as fields of the form: plain values, tables, lists of either, lists within lists.

import { get } from "/static/api.js";
import { job } from "/static/job.js";
import { namesIn, namesOf, quoted, rowsOf, says } from "/static/values.js";

export const { body: schema } = await get("/api/schema");

/** Keys in view; the others are one step away. */
const COMMON = new Set([
  "name", "photo", "image", "paper", "border", "weight", "mat", "frame", "turn", "glazing", "backing", "mat_supply", "quantity",
  "size", "takes", "rabbet", "rail", "depth", "have", "ply", "colour", "price", "eye", "gap", "arrange", "pieces", "printer_margin",
  "text",
]); // prettier-ignore

export function resolved(part) {
  return part?.$ref ? { ...schema.$defs[part.$ref.split("/").at(-1)], ...part, $ref: undefined } : part;
}

export const label = (name) => name.replaceAll("_", " ").replace(/^./, (letter) => letter.toUpperCase());

const optionsOf = (part) => {
  const one = resolved(part);
  return one?.anyOf ? one.anyOf.flatMap(optionsOf) : one ? [one] : [];
};
const isPlain = (one) => one.type !== "object" && one.type !== "array";
const isTable = (one) => one.type === "object" && one.properties;

/** Return the fields of a key: itself, and its parts one by one where it may be a table. `outer` is the table that it is a part of. */
export function fieldsOf(key, name, part, { outer = "", items = null } = {}) {
  const options = optionsOf(part);
  const plain = options.filter(isPlain);
  const of = options.find(isTable);
  const list = options.find(({ type }) => type === "array");
  const named = options.find(({ additionalProperties }) => typeof additionalProperties === "object");
  const examples = [part, ...options, ...(part.anyOf ?? [])].flatMap((one) => one?.examples ?? []);
  const common = COMMON.has(outer || name) && (!outer || outer === "image") && !(name === "gap" && key.startsWith("piece"));
  const about = { key, name, outer, says: part.description ?? "", usual: part.default ?? inUnits(part.description), examples, common };
  if (named) return [{ ...about, kind: "named", rows: places(key, named.additionalProperties) }];
  if (list) {
    const inner = list.items ?? items;
    if (list.maxItems && optionsOf(inner).every(isPlain)) return [tuple(about, list, inner)];
    return [listing(about, inner, { plain, fixed: list.maxItems })];
  }
  const found = plain.length ? [plainField(about, plain)] : [];
  const whole = outer ? `${outer}, ${name}` : name;
  if (of) for (const [under, each] of Object.entries(of.properties)) found.push(...fieldsOf(`${key}.${under}`, under, each, { outer: whole }));
  return found;
}

function plainField(about, plain) {
  const names = plain.find((one) => one["x-names"])?.["x-names"];
  const known = names && namesOf(names, about.key);
  return { ...about, names, kind: known ? "choice" : kindOf(about, plain), choices: known ?? plain.find((one) => one.enum)?.enum };
}

function kindOf({ key, name, examples }, plain) {
  if (plain.some((one) => one.enum)) return "choice";
  if (plain.some((one) => one.type === "boolean")) return "tick";
  if (name === "name" && /\]\.name$/.test(key)) return "name";
  if (examples.includes("250 mm") || examples.includes("12 mm")) return "length";
  if (plain.some((one) => one.type === "integer")) return "count";
  return plain.some((one) => one.type === "number") && plain.length > 1 ? "number" : "text";
}

/** A list of so many plain values, which stand side by side: a point, a pair, a range. */
function tuple(about, { maxItems }, inner) {
  const parts = Array.from({ length: maxItems }, (_, at) => fieldsOf(`${about.key}[${at + 1}]`, about.name, inner)[0]);
  return { ...about, kind: "tuple", parts };
}

/** A list whose entries are added, moved and taken away, each with fields of its own. */
function listing(about, items, { plain, fixed }) {
  const options = optionsOf(items);
  const entry = {
    plain: options.find(isPlain),
    of: options.find(isTable),
    list: options.find(({ type }) => type === "array"),
    fixed,
  };
  entry.short = entry.of && entry.plain ? entry.of.required?.[0] : null;
  let rows = rowsOf(about.key);
  if (!rows.length && plain.length && !Array.isArray(job.values[about.key])) rows = [{ key: about.key, kind: "plain", alone: true }];
  return { ...about, kind: "rows", entry, rows: rows.map((row, at) => ({ ...row, parts: partsOf(about, items, entry, row, at) })) };
}

/** The fields of an entry of a list. */
function partsOf(about, items, entry, row, at) {
  const itself = { ...about, key: row.key, says: "", usual: row.alone ? about.usual : undefined, common: true };
  if (row.kind === "list" && entry.list) return fieldsOf(row.key, about.name, { ...entry.list, description: "" }, { items });
  if (!entry.of) return [entry.plain ? plainField({ ...itself, examples: entry.plain.examples ?? [] }, [entry.plain]) : { ...itself, kind: "text" }];
  return Object.entries(entry.of.properties).flatMap(([inner, part]) => {
    if (inner === "reveal" && about.name === "mat" && at === 0) return [];
    const found = fieldsOf(`${row.key}.${inner}`, inner, part);
    if (inner !== entry.short || row.kind !== "plain") return found;
    return [{ ...found[0], key: row.key, also: found[0].key, usual: itself.usual }];
  });
}

/** The tables of a table whose names are those of other things: where each piece is pinned. */
function places(key, item) {
  const of = optionsOf(item).find(isTable);
  return namesIn(key).map((name) => {
    const at = `${key}.${quoted(name)}`;
    const parts = says(`${at}[`) ? fieldsOf(at, name, { type: "array", items: of }) : Object.entries(of?.properties ?? {}).flatMap(([inner, part]) => fieldsOf(`${at}.${inner}`, inner, part));
    return { key: at, kind: "table", title: name, parts };
  });
}

/** Return what is usual in the job's units, where a key's words tell both: "Default 3 mm, 1/8 in in an inch job." */
const inUnits = (text) => /Default (.+?), (.+?) in an inch job/.exec(text)?.[job.plan?.units === "in" ? 2 : 1];
