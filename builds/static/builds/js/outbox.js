// What was pressed without a connection: kept on this phone, sent in order, each once.
// The store outlives the page and the visit; signing out empties it.

const Outbox = (() => {
  const LONGEST_WAIT = 5 * 60_000;
  const PATIENCE = 30_000;
  const WAITS = "waits"; // to be sent
  const ASKS = "asks"; // was not taken; somebody has to decide
  const { who, outbox: door } = document.querySelector("meta[name=phone]").dataset;

  let failures = 0;
  let timer = 0;
  let running = null;
  let oncemore = false; // asked to send while sending
  let opened = null;
  const state = { signedOut: false, again: null };

  function open() {
    opened ??= new Promise((done, fail) => {
      const asked = indexedDB.open("outbox", 1);
      asked.onupgradeneeded = () => {
        const acts = asked.result.createObjectStore("acts", { keyPath: "seq", autoIncrement: true });
        acts.createIndex("once", "once", { unique: true });
      };
      asked.onsuccess = () => {
        asked.result.onversionchange = () => {
          asked.result.close();
          opened = null;
        };
        done(asked.result);
      };
      asked.onerror = () => fail(asked.error);
    });
    return opened;
  }

  // Runs one piece of work on the store and gives its result once it is safely written.
  async function within(mode, work) {
    const transaction = (await open()).transaction("acts", mode);
    const asked = work(transaction.objectStore("acts"));
    return new Promise((done, fail) => {
      transaction.oncomplete = () => done(asked?.result);
      transaction.onabort = transaction.onerror = () => fail(transaction.error);
    });
  }

  const all = () => within("readonly", (acts) => acts.getAll()); // by seq
  const save = (act) => within("readwrite", (acts) => acts.put(act));
  const drop = (act) => within("readwrite", (acts) => acts.delete(act.seq));
  const mine = async () => (await all()).filter((act) => act.who === who);

  // The same act again (by its one-time word) takes the place of the earlier one.
  async function keep(act) {
    const whole = { ...act, who, at: Date.now(), state: WAITS, words: [] };
    await within("readwrite", (acts) => {
      const asked = acts.index("once").getKey(act.once);
      asked.onsuccess = () => {
        if (asked.result !== undefined) acts.delete(asked.result);
        acts.add(whole);
      };
      return asked;
    });
    navigator.storage?.persist?.();
  }

  async function forget(once) {
    const found = (await all()).find((act) => act.once === once);
    if (found) await drop(found);
  }

  // Sent all the same: an act of now, on the job as it is now, and so is what follows it.
  async function insist(act) {
    const version = act.now ?? act.version;
    await save({ ...act, at: Date.now(), state: WAITS, words: [], version });
    await follow(act, version);
  }

  async function token() {
    const answer = await fetch(door, { signal: AbortSignal.timeout(PATIENCE) });
    if (answer.redirected || answer.status === 403) return "";
    if (!answer.ok) throw answer;
    const told = await answer.json();
    return told.who === who ? told.token : "";
  }

  function body(fields) {
    const form = fields.some(([, value]) => value instanceof Blob) ? new FormData() : new URLSearchParams();
    for (const [name, value] of fields) form.append(name, value);
    return form;
  }

  function post(act, word) {
    const ago = Math.max(0, Math.floor((Date.now() - act.at) / 1000));
    const headers = { "X-CSRFToken": word, "X-Pressed-Ago": ago };
    if (act.version) headers["X-Job-Version"] = act.version;
    const signal = AbortSignal.timeout(PATIENCE);
    return fetch(act.url, { method: "POST", body: body(act.fields), headers, signal });
  }

  async function words(answer) {
    if (answer.headers.get("Content-Type")?.includes("json")) return (await answer.json()).words;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const wrong = page.querySelectorAll(".error-list li, .note--needs[data-take-focus] p");
    const said = wrong.length ? wrong : page.querySelectorAll("h1, .lede");
    return [...said].map((one) => one.textContent.trim());
  }

  // After an act of ours the job has another version; that does not make the next one stale.
  async function follow(act, version) {
    for (const next of await mine()) {
      if (next.job === act.job && next.version && next.version === act.version) await save({ ...next, version });
    }
    for (const form of document.querySelectorAll(`form[data-job="${act.job}"]`)) {
      if (form.dataset.version === act.version) form.dataset.version = version;
    }
  }

  // Gives whether to go on with the next one.
  async function deliver(act, word) {
    let answer = await post(act, word.now);
    if (answer.status === 403) {
      word.now = await token();
      if (word.now) answer = await post(act, word.now);
    }
    if (answer.status === 401 || !word.now) {
      state.signedOut = true;
      return false;
    }
    if (answer.status >= 500 || answer.status === 429) throw answer;
    failures = 0;
    const version = answer.headers.get("X-Job-Version");
    if (answer.ok) {
      if (version) await follow(act, version);
      await drop(act);
      document.dispatchEvent(new CustomEvent("outbox:sent", { detail: { act, words: await words(answer) } }));
    } else {
      await save({ ...act, state: ASKS, words: await words(answer), now: version });
    }
    return true;
  }

  // What follows on a job that somebody has to decide about waits with it; a report,
  // which changes nothing of the job, does not.
  const isHeld = (act, acts) =>
    act.state === WAITS && act.version && acts.some((one) => one.state === ASKS && one.version && one.job === act.job);

  async function sendAll() {
    clearTimeout(timer);
    if (!navigator.onLine || !(await mine()).some((act) => act.state === WAITS)) return;
    const word = { now: await token() };
    state.signedOut = !word.now;
    while (!state.signedOut) {
      const acts = await mine();
      const next = acts.find((act) => act.state === WAITS && !isHeld(act, acts));
      if (!next) break;
      if (!(await deliver(next, word))) break;
      tell();
    }
  }

  function backOff(fault) {
    const asked = Number(fault?.headers?.get?.("Retry-After")) * 1000 || 0;
    const wait = Math.min(Math.max(asked, 5000 * 2 ** failures), LONGEST_WAIT);
    failures += 1;
    state.again = new Date(Date.now() + wait);
    timer = setTimeout(send, wait);
  }

  const tell = () => document.dispatchEvent(new Event("outbox:changed"));

  async function attempt() {
    state.again = null;
    try {
      await sendAll();
    } catch (fault) {
      backOff(fault);
    }
    tell();
  }

  // One page sends at a time, so that two open pages keep the order.
  async function run() {
    do {
      oncemore = false;
      await (navigator.locks ? navigator.locks.request("outbox", attempt) : attempt());
    } while (oncemore);
    running = null;
  }

  function send() {
    if (running) oncemore = true;
    else if (who) running = run();
    return running;
  }

  async function wipe() {
    clearTimeout(timer);
    for (const name of await (window.caches?.keys() ?? [])) await caches.delete(name);
    await within("readwrite", (acts) => acts.clear());
  }

  addEventListener("online", send);
  document.addEventListener("visibilitychange", () => document.hidden || send());

  return { WAITS, ASKS, state, all, mine, isHeld, keep, forget, drop, insist, send, wipe };
})();
