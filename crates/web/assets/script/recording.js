// A recording that is sent: how far it is, and a way to stop it.

import { $ } from "./page.js";
import { refuse, unrefused } from "./refuse.js";

const form = $("#recording");
const sending = $("#sending");
const [progress, told] = [$("progress", sending), $("p", sending)];

function under(way) {
  sending.hidden = !way;
  form.classList.toggle("sends", way);
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  const file = form.elements.recording.files[0];
  if (file?.size > Number(form.dataset.most)) { refuse(form.dataset.long); return; }
  const request = new XMLHttpRequest();
  request.upload.addEventListener("progress", ({ loaded, total }) => {
    progress.value = loaded / total;
    const far = form.dataset.far.replace("{part}", `${5 * Math.floor(20 * loaded / total)} %`);
    if (told.textContent !== far) told.textContent = far;
  });
  request.addEventListener("load", () => {
    under(false);
    if (request.status < 400) { location.assign(request.responseURL); return; }
    const page = new DOMParser().parseFromString(request.responseText, "text/html");
    refuse($(".refused, h1", page)?.textContent ?? form.dataset.silent);
  });
  request.addEventListener("error", () => { under(false); refuse(form.dataset.silent); });
  request.addEventListener("abort", () => { under(false); refuse(form.dataset.stopped); });
  $("#stop-sending").onclick = () => request.abort();
  unrefused();
  progress.value = 0;
  told.textContent = "";
  under(true);
  request.open("POST", form.action);
  request.send(new FormData(form));
  $("#stop-sending").focus();
});
