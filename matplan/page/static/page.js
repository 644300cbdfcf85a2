// The page: every room of it, put to work. Each room listens to the job and changes it through `change` or `edit`.

import { get } from "/static/api.js";
import { formRoom } from "/static/form.js";
import { findingsRoom } from "/static/findings.js";
import { begin, job, on } from "/static/job.js";
import { pictureRoom } from "/static/picture.js";
import { textRoom } from "/static/text.js";
import { wallRoom } from "/static/wall.js";

const by = (id) => document.getElementById(id);

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
wallRoom(by("wall"));

on("answer", () => {
  by("pack").href = `/api/pack?revision=${job.revision}`;
});

const { body } = await get("/api/job");
by("job-name").textContent = body.file;
begin(body.text);
