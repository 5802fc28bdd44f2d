// Small manners of the pages. Behaviour hangs on data- attributes; every page works without.

const root = document.documentElement;
const isNight = () =>
  (root.dataset.theme ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light")) === "dark";

function showTheme() {
  for (const button of document.querySelectorAll("[data-theme-switch]")) {
    button.hidden = false;
    button.textContent = isNight() ? "Day colours" : "Night colours";
  }
}

function switchTheme() {
  root.dataset.theme = isNight() ? "light" : "dark";
  try {
    localStorage.setItem("theme", root.dataset.theme);
  } catch {
    // storage is switched off: the choice lasts for this page
  }
  showTheme();
}

// A picture with many links is one stop for the Tab key; the arrows move inside it.
const stops = (chart) => [...chart.querySelectorAll("a[href]")];

function settleStops(within) {
  for (const chart of within.querySelectorAll("[data-roving]")) {
    stops(chart).forEach((link, place) => link.setAttribute("tabindex", place ? "-1" : "0"));
  }
}

const STEPS = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

function moveStop(event) {
  const chart = event.target.closest?.("[data-roving]");
  if (!chart) return;
  const links = stops(chart);
  const here = links.indexOf(event.target.closest("a"));
  const ends = { Home: 0, End: links.length - 1 };
  const next = ends[event.key] ?? here + (STEPS[event.key] ?? NaN);
  if (here < 0 || !links[next]) return;
  event.preventDefault();
  links[here].setAttribute("tabindex", "-1");
  links[next].setAttribute("tabindex", "0");
  links[next].focus();
}

function takeFocus(within) {
  within.querySelector("[data-take-focus]")?.focus();
}

// A second press of the same button while the first is on its way is not a second act.
function guardPress(event) {
  const form = event.target;
  if (form.dataset.sent) event.preventDefault();
  else if (!event.defaultPrevented && form.method === "post" && !form.hasAttribute("hx-post")) {
    form.dataset.sent = "yes";
    event.submitter?.setAttribute("aria-busy", "true");
  }
}

function forgetPresses() {
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
  for (const button of document.querySelectorAll("[aria-busy]")) button.removeAttribute("aria-busy");
}

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-theme-switch]")) switchTheme();
  if (event.target.closest("[data-print]")) print();
});
document.addEventListener("keydown", moveStop);
document.addEventListener("submit", guardPress);
addEventListener("pageshow", forgetPresses);
document.addEventListener("htmx:afterSettle", (event) => {
  settleStops(event.target);
  takeFocus(event.target);
});

showTheme();
settleStops(document);
takeFocus(document);
