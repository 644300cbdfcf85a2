// The words of the trade: the one behind each key of the form, and all of them to read.

import { get } from "/static/api.js";

const { words, keys } = (await get("/api/words")).body;
const byName = new Map(words.map((word) => [word.name, word]));

/** Return what is told of the word behind a key, or behind the key that it is a part of; nothing where it has none. */
export const toldOf = (name, outer) => byName.get(keys[name] ?? keys[outer])?.told ?? "";

export function wordsRoom({ list, seek }) {
  const show = () => {
    const wanted = seek.value.trim().toLowerCase();
    const found = words.filter(({ name, also, text }) => [name, ...also, text].some((one) => one.toLowerCase().includes(wanted)));
    list.replaceChildren(
      ...found.flatMap(({ name, also, text }) => {
        const head = document.createElement("dt");
        head.textContent = also.length ? `${name} (also: ${also.join(", ")})` : name;
        const says = document.createElement("dd");
        says.textContent = text;
        return [head, says];
      }),
    );
  };
  seek.addEventListener("input", show);
  show();
}
