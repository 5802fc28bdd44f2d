// Stands between a technician's phone and the connection. Keeps only the pages that the
// server marks for it, and shows them, marked, while there is none. RELEASE comes before.

const SHELL = `shell-${RELEASE.release}`;
const PAGES = `pages-${RELEASE.release}-`;
const PATIENCE = 3000; // ms, then the kept page is shown, if there is one
const KEEP = "X-Keep";

const pageCaches = async () => (await caches.keys()).filter((name) => name.startsWith("pages-"));
const ours = (name) => name === SHELL || name.startsWith(PAGES);
const address = (request) => request.url.split(/[?#]/)[0];

async function takeOver() {
  for (const name of await caches.keys()) if (!ours(name)) await caches.delete(name);
  await clients.claim();
}

async function forgetPages(but = "") {
  for (const name of await pageCaches()) if (name !== but) await caches.delete(name);
}

async function keptPage(request) {
  for (const name of await pageCaches()) {
    const found = await (await caches.open(name)).match(address(request), { ignoreVary: true });
    if (found) return found;
  }
  return null;
}

// Whoever comes to the door has no visit; what the last one kept is not theirs to read.
async function remember(request, answer) {
  if (!answer.ok) return;
  const whose = answer.headers.get(KEEP);
  if (whose) {
    await forgetPages(PAGES + whose);
    await (await caches.open(PAGES + whose)).put(address(request), answer);
  } else if (new URL(request.url).pathname === RELEASE.door) {
    await forgetPages();
  }
}

async function marked(kept) {
  const since = new Date(kept.headers.get("Date") ?? Date.now());
  const today = since.toDateString() === new Date().toDateString();
  const clock = since.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  const when = today ? clock : `${since.toLocaleDateString("en-GB", { weekday: "short", day: "numeric", month: "short" })}, ${clock}`;
  const html = (await kept.text()).replace(
    /<p([^>]*) data-as-of hidden><\/p>/,
    (_, rest) => `<p${rest} data-as-of role="status">As of ${when}, no connection.</p>`,
  );
  const headers = new Headers(kept.headers);
  for (const name of ["Content-Encoding", "Content-Length"]) headers.delete(name);
  return new Response(html, { status: 200, headers });
}

async function page(event) {
  const { request } = event;
  const kept = await keptPage(request);
  const asked = fetch(request).then((answer) => {
    event.waitUntil(remember(request, answer.clone()));
    return answer;
  });
  const tooLong = new Promise((_, fail) => kept && setTimeout(fail, PATIENCE));
  try {
    return await Promise.race([asked, tooLong]);
  } catch {
    event.waitUntil(asked.catch(() => null));
    if (kept) return marked(kept);
    return (request.mode === "navigate" && (await caches.match(RELEASE.offline))) || Response.error();
  }
}

async function asset(request) {
  try {
    return await fetch(request);
  } catch {
    return (await caches.match(request, { ignoreVary: true, ignoreSearch: true })) ?? Response.error();
  }
}

addEventListener("install", (event) => {
  skipWaiting();
  const everything = [...RELEASE.shell, RELEASE.offline];
  event.waitUntil(caches.open(SHELL).then((shell) => shell.addAll(everything)));
});

addEventListener("activate", (event) => event.waitUntil(takeOver()));

addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (pathname.startsWith(RELEASE.assets)) event.respondWith(asset(request));
  else if (request.mode === "navigate" || request.headers.has(KEEP)) event.respondWith(page(event));
});
