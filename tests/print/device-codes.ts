import type { Area } from "./issue-codes.ts";

/** Codes of the app itself: what a device keeps, and what is brought to it. */
// biome-ignore format: one line a code reads as the table it is
export const DEVICE_AREAS: readonly Area[] = [
  {
    title: "A stand brought in",
    about: "",
    rows: [
      ["stand-unreadable", "a file is no stand, no rig and no procedure, or a stand of a newer version", "choose a stand's file, or its rig's and its procedure's together"],
      ["stand-incomplete", "there is a rig without a procedure, or the other way round, and this device has not the other half", "bring both"],
      ["stand-twice", "there is more than one rig, or more than one procedure", "bring in one stand at a time"],
      ["stand-id-taken", "the rig's id is that of an invented stand that came with the app", "give it an id of its own"],
      ["revision-used", "this device has the same revision of the procedure, and it says otherwise", "raise the revision"],
      ["stand-changed", "the stand was changed or put away in another page since this one was opened", "load the page again, then start the run"],
      ["stands-not-read", "the part of the app that reads stands is not on this device", "open the app once with a network; the stands are kept"],
    ],
  },
  {
    title: "Review: sign-off",
    about: "",
    rows: [
      ["reviewer-unnamed", "who signs has entered no code", "enter your own: letters and digits"],
      ["reviewer-in-crew", "who signs held a role in this run", "have somebody sign who had no part in it"],
      ["log-not-whole", "the chain of the run's log is broken", "bring the run in again from the phone"],
      ["run-not-over", "the run is still open", "sign it when it is closed or scrubbed"],
      ["note-missing", "something is to follow, or there are red findings, and nothing is said of it", "say what is to be done, or why nothing is"],
      ["note-too-long", "the note is longer than 2000 characters", "shorten it"],
    ],
  },
  {
    title: "This device: store, session, bench",
    about: "",
    rows: [
      ["store-full", "the device has no room left", "free some, then try again"],
      ["store-timeout", "the store did not answer", "try again; if it stays so, go on by the paper card and export the run"],
      ["store-blocked", "an older page of the app keeps the store", "close every other tab and window of it"],
      ["store-unavailable", "the store failed", "try again; if it stays so, go on by the paper card"],
      ["entry-exists", "another entry stands in this place already", "read the log again"],
      ["run-not-found", "the device holds no such run", "bring in its run file"],
      ["file-not-found", "the device holds no such file", "bring it in again"],
      ["file-changed", "a kept file's bytes are not those that were stored", "bring it in again"],
      ["journal-unusable", "the second copy of the log cannot be used", "the run itself is kept in the store; export it soon"],
      ["journal-made-room", "older second copies made way", "export those runs"],
      ["journal-differs", "the second copy says something else", "export the run, and show it to whoever keeps the records"],
      ["recovered-from-journal", "the store had lost entries; the second copy had them", "export the run soon"],
      ["log-does-not-fold", "the stored log says what the sequence would refuse", "make safe by the paper card, and export the run"],
      ["store-contradicts-itself", "a place of the log is taken, and nothing is there", "one page writes a run: go on in the other one, or take over"],
      ["run-writer-busy", "another page is writing a run", "close the run that is open there, then start this one"],
      ["another-writer", "another page has gone on with this run", "go on there, or take over"],
      ["not-the-writer", "this page only looks on", "go on in the other page, or take over here"],
      ["session-fault", "the app met a fault of its own", "hold is called: use the paper card, and report it with the run file"],
      ["share-refused", "the device did not share the file", "save it, or copy it"],
      ["bench-record-unreadable", "what was decided about a force file cannot be read", "match the file again; it is untouched"],
      ["bench-fault", "the bench met a fault of its own", "bring the file in again; if it happens twice, keep the file and report it"],
      ["no-firing", "the record holds no such firing", "look at the trace"],
      ["stopped", "the work was stopped by hand", "ask for it again"],
    ],
  },
];
