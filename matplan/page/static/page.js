// The page: every room of it, put to work. Each room listens to the job and changes it through `change` or `edit`.

import { beginRoom } from "/static/begin.js";
import { diskRoom, open } from "/static/disk.js";
import { filesRoom } from "/static/files.js";
import { findingsRoom } from "/static/findings.js";
import { formRoom } from "/static/form.js";
import { pictureRoom } from "/static/picture.js";
import { rulerRoom } from "/static/ruler.js";
import { textRoom } from "/static/text.js";
import { wallRoom } from "/static/wall.js";
import { wordsRoom } from "/static/words.js";

const by = (id) => document.getElementById(id);

diskRoom({ undo: by("undo"), redo: by("redo"), save: by("save"), state: by("state"), name: by("job-name"), question: by("question"), told: by("told") });
formRoom(by("form"));
textRoom(by("job-text"));
findingsRoom(by("errors"), by("job-text"));
pictureRoom({
  figure: { front: by("front"), other: by("other") },
  pieces: by("pieces"),
  drawings: by("drawings"),
  sum: by("sum"),
  zoom: by("zoom"),
});
beginRoom({ drop: by("drop"), input: by("photos"), list: by("choices"), told: by("told") });
wallRoom({
  figure: by("wall"),
  photo: { whole: by("on-photo"), note: by("photo-note"), figure: by("photo") },
  tabs: by("walls"),
  tools: { whole: by("wall-tools"), side: by("label-side"), labels: by("labels-at"), pick: by("pick-wall-photo"), file: by("wall-photo-file") },
  wrong: { wall: by("wall-wrong"), photo: by("photo-wrong") },
  told: by("told"),
});
rulerRoom({ button: by("ruler"), figures: [by("front"), by("other"), by("wall")], sum: by("sum"), told: by("told") });
wordsRoom({ list: by("words"), seek: by("seek") });
filesRoom({ pack: by("pack"), progress: by("making"), list: by("files"), table: by("numbers") });

await open();
if (by("photos").files.length) by("photos").dispatchEvent(new Event("change")); // picked before the page was ready
