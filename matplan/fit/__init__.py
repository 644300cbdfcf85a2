"""What fits what: which frames, papers, ways up and print sizes suit a picture, and which ready-cut mats save the
cutting.

`sources` gathers the frames and papers to choose from, `choices` goes through them, `window` solves each exactly,
`score` says how good it is and `words` why; `written` makes the JSON of it. It must not know files but the photo's
header and the job, nor how a terminal looks.

The whole question is answered within twice the time that the program takes to start, so that nothing here enters the
engine, the job's records or Pillow unless a job or a photo is named: `window` says the engine's rules for the plainest
piece once more, and the tests hold it to `matplan.mats.solve`.
"""
