// The picture of the chosen piece: the very drawings of the pack, on tabs.

import { choose, job, on } from "/static/job.js";
import { drawn } from "/static/drawing.js";

export function pictureRoom(figure, tabs) {
  on("answer", show);
  on("chosen", show);

  function show() {
    tabs.replaceChildren(
      ...job.pieces.map((piece) => {
        const tab = document.createElement("button");
        tab.type = "button";
        tab.role = "tab";
        tab.textContent = piece.name;
        tab.ariaSelected = String(piece.file === job.chosen.piece);
        tab.addEventListener("click", () => choose({ piece: piece.file }));
        return tab;
      }),
    );
    const picture = job.pictures.get(`front/${job.chosen.piece}.svg`);
    if (!picture) return;
    if (figure.dataset.drawing !== `${job.chosen.piece} ${picture.revision}`) {
      figure.replaceChildren(drawn(picture.svg));
      figure.dataset.drawing = `${job.chosen.piece} ${picture.revision}`;
    }
    if (job.sound) figure.dataset.revision = String(job.revision);
  }
}
