// The wall: the pack's view of it.

import { job, on } from "/static/job.js";
import { drawn } from "/static/drawing.js";

export function wallRoom(figure) {
  on("answer", () => {
    const wall = job.walls[0];
    const picture = wall && job.pictures.get(`wall/${wall.file}.svg`);
    figure.hidden = !picture;
    if (picture && figure.dataset.drawing !== String(picture.revision)) {
      figure.replaceChildren(drawn(picture.svg));
      figure.dataset.drawing = String(picture.revision);
    }
  });
}
