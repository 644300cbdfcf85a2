// Faults of the text and findings of the plan: each jumps to its field and to its line.

import { choose, job, on, tell } from "/static/job.js";
import { goToLine } from "/static/text.js";
import { placeOfPiece, says } from "/static/values.js";

export function findingsRoom(list, area) {
  let shown = "";
  const show = () => {
    const entries = [
      ...job.errors.filter(isOfUse).map((error) => ["error", error.line ? `Line ${error.line}: ${error.text}` : error.text, error.where, error.line]),
      ...found().map(({ level, text, key, piece }) => [level, text, key, lineOf(key), piece]),
    ];
    const mark = JSON.stringify(entries);
    if (mark === shown) return;
    shown = mark;
    list.replaceChildren(...entries.map((each) => entry(...each)));
    list.dataset.none = job.pieces.length && !entries.length ? "Nothing: all fits." : "";
  };
  on("answer", show);
  on("sheets", show);

  function entry(level, text, key, line, piece = null) {
    const item = document.createElement("li");
    const button = document.createElement("button");
    button.type = "button";
    button.dataset.role = "finding";
    button.dataset.key = key ?? "";
    button.dataset.level = level;
    button.textContent = text;
    button.addEventListener("click", () => {
      lookAt(key, piece);
      if (line) goToLine(area, line);
      tell("go", { key, line });
    });
    item.append(button);
    return item;
  }
}

/** The line of a key, or of what it stands in. */
function lineOf(key) {
  for (let place = key; place; place = place.replace(/(\.?[^.[\]]+|\[\d+\])$/, "")) if (job.lines[place]) return job.lines[place];
  return null;
}

/** Look at the piece that a key is of, one with a fault that has no picture yet among them. */
function lookAt(key, file) {
  const at = /^piece\[\d+\]/.exec(key ?? "")?.[0];
  const piece = file ?? (at && job.pieces.find(({ name }) => name === job.values[`${at}.name`])?.file);
  if (piece) choose({ piece });
  else if (at) choose({ at });
}

/** A job that is just begun has no piece yet: the place for photos says what to do, and no fault does. */
const isOfUse = ({ where, text }) => where || job.pieces.length || says("piece[") || !text.startsWith("the job has no piece");

/** Every finding of the plan with the key of the job that it is about. */
function found() {
  const of = (list, key, prefix, piece = null) =>
    (list ?? []).map(({ level, text, where }) => ({ level, text: `${prefix}${text}`, key: where && !where.includes(" ") ? `${key}.${where}` : key, piece }));
  return [
    ...job.pieces.flatMap((piece) => of(piece.findings, keyOf(piece), `${piece.name}: `, piece.file)),
    ...job.walls.flatMap((wall, at) => of(wall.findings, `wall[${at + 1}]`, `${wall.name}: `)),
    ...of(job.plan?.findings, "", ""),
  ];
}

/** The place of a piece in the job's text. */
export const keyOf = (piece) => placeOfPiece(piece.name) ?? `piece[${job.pieces.indexOf(piece) + 1}]`;
