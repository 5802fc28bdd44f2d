// Says plainly when an act did not reach the workshop; what was typed stays in the form.

const NO_SIGNAL = "Not sent: no signal. Your words are still here. Press again when you have it.";
const NO_ANSWER = "Not kept: the workshop’s machine gave no proper answer. Your words are still here.";

function sayNotSent(event, words) {
  const form = event.target.closest?.("form");
  const line = form?.querySelector("[data-not-sent]");
  if (!line) return;
  line.hidden = false;
  line.textContent = words;
  line.scrollIntoView({ block: "center" });
}

function forget(event) {
  const line = event.target.closest?.("form")?.querySelector("[data-not-sent]");
  if (line) line.hidden = true;
}

document.addEventListener("htmx:sendError", (event) => sayNotSent(event, NO_SIGNAL));
document.addEventListener("htmx:timeout", (event) => sayNotSent(event, NO_SIGNAL));
document.addEventListener("htmx:responseError", (event) => sayNotSent(event, NO_ANSWER));
document.addEventListener("htmx:beforeRequest", forget);
