// What a technician sees of the outbox, and when a form goes into it: while there is no
// connection, while others wait before it, and when the machine gave no proper answer.
{
  const NOT_TAKEN = "Not kept: the workshop’s machine gave no proper answer. Your words are still here.";
  const NO_ROOM = "Not sent, and this phone has no room to keep it. Your words are still here.";
  const NO_PLACE = "There is no place for it on this page any more. Tell the lead, then throw it away.";
  const HELD = "It waits for what is to be decided on the same job.";
  const LOSE = "Signing out throws these away. Send them first, or press Sign out again.";

  const box = () => document.querySelector("[data-outbox-box]");
  const { who } = document.querySelector("meta[name=phone]").dataset;
  const isCopy = () => Boolean(document.querySelector("[data-as-of]:not([hidden])"));
  const path = (address) => address.split("#")[0].replace(location.origin, "");
  const clock = (at) => new Date(at).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  const newWord = () => crypto.randomUUID().replaceAll("-", "");
  const sent = []; // from this page, with what came of it
  let mending = null; // what was opened again on this page
  let waiting = 0;
  let kept = 0; // what signing out would throw away
  let say = "";

  function sayIn(form, words) {
    const line = form.querySelector("[data-not-sent]");
    line.hidden = !words;
    line.textContent = words;
    if (words) line.scrollIntoView({ block: "center" });
  }

  // A form that came through takes the place of the act it was filled from.
  async function mended(form, once) {
    if (mending?.url !== path(form.action)) return;
    if (mending.once !== once) await Outbox.forget(mending.once);
    mending = null;
  }

  async function keepForm(form, given = new FormData(form)) {
    const { outbox: act, job = "", version = "", says } = form.dataset;
    const fields = [...given].filter(([name]) => name !== "csrfmiddlewaretoken");
    const once = form.elements.once;
    try {
      await Outbox.keep({ once: once.value, url: path(form.action), page: path(location.href), fields, act, job, version, says });
    } catch {
      sayIn(form, NO_ROOM);
      return;
    }
    await mended(form, once.value);
    sayIn(form, "");
    form.reset();
    once.value = newWord();
    form.closest("details")?.removeAttribute("open");
    await show();
    box().scrollIntoView({ block: "center" });
    Outbox.send();
  }

  // How far the job has got, going by what was pressed on this phone and not answered yet.
  function stands(job, acts) {
    const last = acts.filter((one) => one.job === job && ["start", "stop", "finish"].includes(one.act)).at(-1);
    if (!last) return "";
    const isDone = last.act === "finish" || last.fields.some(([name, value]) => name === "how" && value === "done");
    return isDone ? "done" : "under way";
  }

  function settle(acts) {
    for (const part of document.querySelectorAll("[data-when]")) {
      part.dataset.hid ??= part.hidden ? "yes" : "";
      const now = stands(part.dataset.job, acts);
      part.hidden = now ? part.dataset.when !== now : part.dataset.hid === "yes";
    }
  }

  function line(act, acts) {
    const row = box().querySelector("template").content.cloneNode(true).firstElementChild;
    const asks = act.state === Outbox.ASKS;
    row.dataset.seq = act.seq;
    row.querySelector(".line__title").textContent = act.says;
    row.querySelector(".line__note").textContent = [`Pressed ${clock(act.at)}.`, Outbox.isHeld(act, acts) ? HELD : "", ...act.words].join(" ");
    row.querySelector("[data-open]").href = `${act.page}#again=${act.once}`;
    for (const way of row.querySelectorAll("[data-open], [data-insist]")) way.hidden = !asks;
    return row;
  }

  function title(waits, asks, others) {
    if (!who) return `${others} kept on this phone, waiting to be sent`;
    const parts = [waits && `${waits} waiting to be sent`, asks && `${asks} for you to decide`];
    return parts.filter(Boolean).join(", ") || (sent.length ? "All sent" : `${others} of somebody else’s waiting`);
  }

  function explain(waits) {
    if (say) return say;
    if (!who) return "They are sent when whoever pressed them signs in.";
    if (Outbox.state.signedOut) return "You are signed out. Sign in again, and they are sent.";
    if (waits && !navigator.onLine) return "No connection. They are sent when it is back.";
    if (Outbox.state.again) return `No proper answer yet. Tried again at ${clock(Outbox.state.again)}.`;
    return sent.flatMap((one) => one.words).slice(-3).join(" ");
  }

  // The connection is back, but the page is still the one that was kept.
  function sayHowOld() {
    const copy = document.querySelector("[data-as-of]:not([hidden])");
    if (!copy || !navigator.onLine || copy.querySelector("a")) return;
    const again = document.createElement("a");
    again.href = path(location.href);
    again.textContent = "Load it as it is now";
    copy.textContent = copy.textContent.replace(", no connection", "");
    copy.append(" ", again);
  }

  async function show() {
    if (!box()) return;
    const everybody = await Outbox.all().catch(() => []);
    const acts = everybody.filter((act) => act.who === who);
    const [deciding, sending] = [true, false].map((asked) => acts.filter((act) => (act.state === Outbox.ASKS) === asked));
    kept = acts.length;
    waiting = sending.length;
    box().hidden = !everybody.length && !sent.length;
    box().querySelector("[data-outbox-title]").textContent = title(waiting, deciding.length, everybody.length - kept);
    box().querySelector("[data-outbox-says]").textContent = explain(waiting);
    box().querySelector("[data-outbox-asks]").replaceChildren(...deciding.map((act) => line(act, acts)));
    box().querySelector("[data-outbox-waits]").hidden = !waiting;
    box().querySelector("[data-outbox-waits] ol").replaceChildren(...sending.map((act) => line(act, acts)));
    sayHowOld();
    box().querySelector("[data-outbox-send]").hidden = !waiting || Outbox.state.signedOut;
    box().querySelector("[data-outbox-door]").hidden = !(who && Outbox.state.signedOut);
    settle([...sent, ...sending]);
  }

  async function decide(event) {
    const button = event.target.closest("[data-insist], [data-drop], [data-outbox-send]");
    if (!button) return;
    const seq = Number(button.closest("[data-seq]")?.dataset.seq);
    const act = (await Outbox.mine()).find((one) => one.seq === seq);
    if (act && button.matches("[data-drop]") && !button.dataset.sure) {
      button.dataset.sure = "yes";
      button.textContent = "Really throw it away";
      return;
    }
    if (act) await (button.matches("[data-drop]") ? Outbox.drop(act) : Outbox.insist(act));
    await show();
    Outbox.send();
  }

  function stop(event) {
    event.preventDefault();
    event.stopImmediatePropagation();
  }

  async function signOut(form) {
    if (kept && !form.dataset.sure) {
      form.dataset.sure = say = LOSE;
      await show();
      box().scrollIntoView({ block: "center" });
      return;
    }
    await Outbox.wipe().catch(() => null);
    form.submit();
  }

  function submitted(event) {
    const form = event.target;
    if (who && form.matches("[action$='/sign-out/']")) {
      stop(event);
      signOut(form);
    } else if (form.matches("[data-outbox]") && (waiting || !navigator.onLine)) {
      stop(event);
      keepForm(form);
    }
  }

  const formOf = (event) => (event.detail.requestConfig?.elt ?? event.detail.elt)?.closest?.("form[data-outbox]");

  function unanswered(event) {
    const form = formOf(event);
    const status = event.detail.xhr?.status ?? 0;
    if (!form) return;
    if (!status || status === 403 || status === 429 || status >= 500) keepForm(form, event.detail.requestConfig.formData);
    else sayIn(form, NOT_TAKEN);
  }

  // The door instead of an answer: the visit is over. A refusal of goods in is a page to read.
  function beforeSwap(event) {
    const form = formOf(event);
    const { xhr } = event.detail;
    if (!form) return;
    if (new URL(xhr.responseURL).pathname === box().querySelector("[data-outbox-door]").pathname) {
      event.detail.shouldSwap = false;
      keepForm(form, event.detail.requestConfig.formData);
    } else if (xhr.status === 409) {
      event.detail.shouldSwap = true;
      event.detail.isError = false;
    } else if (xhr.status < 400) mended(form).then(show);
  }

  function fill(field, values) {
    if (field.type === "file") {
      const files = new DataTransfer();
      for (const one of values) if (one.size) files.items.add(one);
      field.files = files.files;
    } else if (["radio", "checkbox"].includes(field.type)) field.checked = values.includes(field.value);
    else if (field.type !== "hidden" && values.length) [field.value] = values;
  }

  // What was not taken is put back into its form, to be mended and sent once more.
  async function refill() {
    const once = location.hash.match(/^#again=(\w+)$/)?.[1];
    const act = once && (await Outbox.mine()).find((one) => one.once === once);
    if (!act) return;
    const form = [...document.querySelectorAll("form[data-outbox]")].find((one) => path(one.action) === act.url);
    if (!form || form.closest("[hidden]")) say = NO_PLACE;
    else {
      for (const field of form.elements) fill(field, act.fields.filter(([name]) => name === field.name).map(([, value]) => value));
      form.elements.once.value = once;
      mending = act;
      for (const part of form.querySelectorAll("details")) part.open = true;
      form.closest("details")?.setAttribute("open", "");
      form.scrollIntoView();
    }
    show();
  }

  function arrived() {
    sent.length = 0;
    say = "";
    show();
  }

  async function begin() {
    if (isCopy()) {
      for (const word of document.querySelectorAll("[data-outbox] [name=once]")) word.value = newWord();
      for (const message of document.querySelectorAll("#messages .message")) message.remove();
      document.getElementById(new URLSearchParams(location.search).get("ask"))?.setAttribute("open", "");
    }
    await show();
    await refill();
    Outbox.send();
  }

  document.addEventListener("submit", submitted, true);
  document.addEventListener("click", decide);
  for (const name of ["sendError", "timeout", "responseError"]) document.addEventListener(`htmx:${name}`, unanswered);
  document.addEventListener("htmx:beforeSwap", beforeSwap);
  document.addEventListener("htmx:beforeRequest", (event) => formOf(event) && sayIn(formOf(event), ""));
  document.addEventListener("htmx:afterSettle", arrived);
  document.addEventListener("outbox:changed", show);
  document.addEventListener("outbox:sent", ({ detail }) => sent.push({ ...detail.act, words: detail.words }));
  for (const name of ["online", "offline"]) addEventListener(name, show);
  addEventListener("hashchange", refill);
  begin();
}
