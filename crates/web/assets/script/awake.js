// The screen stays awake.

import { $ } from "./page.js";

export async function stayAwake() {
  try { await navigator.wakeLock?.request("screen"); } catch { /* it sleeps as it always did */ }
}

/** While a job is open and looked at. */
export const stayAwakeOnJobs = () => { if (document.visibilityState === "visible" && $("main.job")) stayAwake(); };
document.addEventListener("visibilitychange", stayAwakeOnJobs);
