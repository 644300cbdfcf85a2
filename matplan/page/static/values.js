// What the job's text says at a key: a value, an entry of a list, a list's entries one by one, the names of its things.

import { job } from "/static/job.js";

let of = null;
const begun = new Set();
const pieces = new Map();

/** Read the keys of a new text once: what each begins with, and where the pieces stand. */
function known() {
  if (of === job.values) return;
  of = job.values;
  begun.clear();
  pieces.clear();
  for (const key of Object.keys(of)) {
    for (let at = 0; at < key.length; at += 1) if (key[at] === "." || key[at] === "[") begun.add(key.slice(0, at + 1));
    const piece = key.startsWith("piece[") && /^(piece\[\d+\])\.name$/.exec(key)?.[1];
    if (piece && !pieces.has(of[key])) pieces.set(of[key], piece);
  }
}

/** Whether the text says anything that begins so: `piece[1].mat[` for a list of tables, `wall[1].zone.` for a table. */
export function says(start) {
  known();
  return begun.has(start);
}

/** Return where a piece stands in the text, by its name. */
export function placeOfPiece(name) {
  known();
  return pieces.get(name);
}

/** Return what the text says at a key, an entry of a list among them: `wall[1].floor[2][1]`. */
export function valueAt(key) {
  const value = job.values[key];
  if (value !== undefined) return value;
  const [, list, number] = /^(.*)\[(\d+)\]$/.exec(key) ?? [];
  if (!list) return undefined;
  const outer = valueAt(list);
  return Array.isArray(outer) ? outer[number - 1] : undefined;
}

/** Return the table at a key, flat: { "reveal": "6 mm", "image.width": "2 cm" }. */
export const tableAt = (key) =>
  Object.fromEntries(Object.entries(job.values).filter(([name]) => name.startsWith(`${key}.`)).map(([name, value]) => [name.slice(key.length + 1), value]));

/** Return the entries of a list as the text has them: { key, kind, value } with the kind "plain", "table" or "list"; `alone` stands without a list. */
export function rowsOf(key) {
  const value = valueAt(key);
  if (Array.isArray(value)) return value.map((one, at) => ({ key: `${key}[${at + 1}]`, kind: Array.isArray(one) ? "list" : "plain", value: one }));
  if (value !== undefined && typeof value !== "object") return [{ key, kind: "plain", alone: true, value }];
  if (says(`${key}.`)) return [{ key, kind: "table", alone: true, value: tableAt(key) }];
  const rows = [];
  for (let at = `${key}[1]`; there(at); at = `${key}[${rows.length + 1}]`) {
    const one = job.values[at];
    const list = Array.isArray(one) || says(`${at}[`);
    const table = !list && (one === undefined || typeof one === "object");
    rows.push({ key: at, kind: list ? "list" : table ? "table" : "plain", value: table ? tableAt(at) : one });
  }
  return rows;
}

const there = (key) => job.values[key] !== undefined || says(`${key}.`) || says(`${key}[`);

/** Return the names of the tables in a table, `["ash", "my oak"]` of `frame`. */
export function namesIn(table) {
  const name = new RegExp(`^("(?:[^"\\\\]|\\\\.)*"|[A-Za-z0-9_-]+)`);
  const found = Object.keys(job.values).filter((key) => key.startsWith(`${table}.`)).map((key) => name.exec(key.slice(table.length + 1))?.[1]);
  return [...new Set(found.filter(Boolean))].map((one) => one.replace(/^"|"$/g, "").replaceAll('\\"', '"'));
}

/** Return the names of what a field may name: the pieces, the windows of its own piece, the things on its own wall. */
export function namesOf(kind, key) {
  const own = /^[a-z]+\[\d+\]/.exec(key)?.[0] ?? "";
  const lists = { piece: ["piece"], aperture: [`${own}.aperture`], thing: [`${own}.furniture`, `${own}.keep_clear`] }[kind];
  return lists?.flatMap((list) => namesOfList(list)) ?? null;
}

export function namesOfList(list) {
  const found = [];
  for (let at = 1; there(`${list}[${at}]`); at += 1) found.push(job.values[`${list}[${at}].name`]);
  return found.filter((name) => name !== undefined);
}

export const quoted = (name) => (/^[A-Za-z0-9_-]+$/.test(name) ? name : `"${name.replaceAll('"', '\\"')}"`);
