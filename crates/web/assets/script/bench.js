// What every page does once its script is there.

import { offerAloud } from "./aloud.js";
import { stayAwakeOnJobs } from "./awake.js";
import "./boxes.js";
import { closeUp } from "./closeup.js";
import "./counting.js";
import "./jumped.js";
import "./keys.js";
import "./lying.js";
import { foldRead } from "./minded.js";
import { all } from "./page.js";
import "./shade.js";
import { begin } from "./steps.js";
import { takeUp } from "./unentered.js";

begin((fresh) => {
  if (fresh) {
    for (const hold of all(".loupe-hold")) closeUp(hold);
    foldRead();
    takeUp();
  }
  offerAloud();
});
stayAwakeOnJobs();
