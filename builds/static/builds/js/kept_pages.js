// Has the program registered that keeps a technician's pages as they are looked at, and
// has it keep more: what the bench list says is next, and what an act has changed.
{
  const KEPT_FOR = 3600_000; // ms, then a page that is kept is asked for again
  const SOON = 4000; // ms, so that the page itself comes first
  const { who, worker } = document.querySelector("meta[name=phone]").dataset;
  const bare = (address) => new URL(address, location.href).pathname;
  const changed = new Set();

  async function isFresh(address) {
    const kept = await caches.match(address, { ignoreVary: true });
    return kept && Date.now() - new Date(kept.headers.get("Date")) < KEPT_FOR;
  }

  async function keep() {
    if (!navigator.serviceWorker.controller || !navigator.onLine) return;
    const links = [...document.querySelectorAll("[data-keep-ahead] a.line__title")].map((link) => link.href);
    for (const address of new Set([...changed, ...links.map(bare)])) {
      if (!changed.has(address) && (await isFresh(address))) continue;
      changed.delete(address);
      await fetch(address, { headers: { "X-Keep": "1" } }).catch(() => null);
    }
  }

  const keepSoon = () => setTimeout(keep, SOON);

  function noteChange(address) {
    changed.add(bare(address));
    keepSoon();
  }

  if (who && navigator.serviceWorker) {
    document.addEventListener("htmx:beforeSwap", () => noteChange(location.href));
    document.addEventListener("htmx:afterSettle", () => noteChange(location.href));
    document.addEventListener("outbox:sent", ({ detail }) => noteChange(detail.act.page));
    navigator.serviceWorker.addEventListener("controllerchange", () => noteChange(location.href));
    addEventListener("load", () => {
      navigator.serviceWorker.register(worker, { scope: "/", updateViaCache: "none" });
      keepSoon();
    });
  }
}
