// What every page has. Pages do the same without scripts; these make it quicker.

// ask asks the site, or the program in this browser where there is no site.
function ask(address, options) {
  return (window.spectally?.fetch ?? fetch)(address, options);
}

async function askJSON(address, options) {
  try {
    const answer = await ask(address, options);
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}

function element(name, attributes = {}, ...children) {
  const e = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key === "class") e.className = value;
    else if (key.startsWith("on")) e.addEventListener(key.slice(2), value);
    else if (value === true) e.setAttribute(key, "");
    else if (value !== false && value != null) e.setAttribute(key, value);
  }
  e.append(...children.filter((c) => c != null));
  return e;
}

function button(text, action, kind = "second small") {
  return element("button", { type: "button", class: kind, onclick: action }, text);
}

// later calls a function once nothing has asked for it for a moment.
function later(f, wait = 80) {
  let timer = 0;
  return (...args) => {
    clearTimeout(timer);
    timer = setTimeout(() => f(...args), wait);
  };
}

const small = matchMedia("(max-width: 44rem)");

// A command line can be copied.
function offerCopies(main) {
  for (const line of main.querySelectorAll(".shell")) {
    if (!navigator.clipboard) break;
    const copy = button("Copy", async () => {
      try {
        await navigator.clipboard.writeText(line.querySelector("code").textContent);
        copy.textContent = "Copied";
      } catch {
        copy.textContent = "Not allowed";
      }
    });
    copy.setAttribute("aria-live", "polite");
    line.append(copy);
  }
}

// On a small screen the form folds to a line once there is an answer, and so does what was
// assumed.
function fold(main) {
  if (!small.matches) return;
  const change = main.querySelector("details.change");
  if (change && !change.querySelector("[aria-invalid]")) change.open = false;
  for (const assumed of main.querySelectorAll("details.assumed")) assumed.open = false;
}

const rowsOfPage = 100;

// A long table comes in pages, with a filter.
function pageTables(main) {
  let n = 0;
  for (const frame of main.querySelectorAll(".answer .scroll")) {
    const rows = [...frame.querySelectorAll("tbody tr")];
    if (rows.length <= 20) continue;
    n++;
    let kept = rows;
    let at = 0;
    const id = "filter-" + n;
    const filter = element("input", { type: "text", id, autocomplete: "off", autocapitalize: "off", spellcheck: "false" });
    const count = element("span", { class: "count", "aria-live": "polite" });
    const back = button("Back", () => show(at - rowsOfPage));
    const on = button("On", () => show(at + rowsOfPage));
    function show(from) {
      at = Math.max(0, Math.min(from, Math.floor(Math.max(kept.length - 1, 0) / rowsOfPage) * rowsOfPage));
      const shown = new Set(kept.slice(at, at + rowsOfPage));
      for (const row of rows) row.hidden = !shown.has(row);
      const end = Math.min(at + rowsOfPage, kept.length);
      count.textContent = kept.length > rowsOfPage ? `${at + 1} to ${end} of ${kept.length}` : `${kept.length} of ${rows.length}`;
      back.hidden = on.hidden = kept.length <= rowsOfPage;
      back.disabled = at === 0;
      on.disabled = end >= kept.length;
    }
    filter.addEventListener("input", () => {
      const words = filter.value.toLowerCase().split(/\s+/).filter(Boolean);
      kept = rows.filter((row) => {
        const text = row.textContent.toLowerCase();
        return words.every((w) => text.includes(w));
      });
      show(0);
    });
    frame.before(element("div", { class: "pager" }, element("label", { for: id }, "Filter"), filter, count, back, on));
    show(0);
  }
}

// headline writes an answer about carriers in one look.
function writeHeadline(into, head, fault) {
  into.hidden = !head && !fault;
  into.replaceChildren();
  if (!head) {
    if (fault) into.append(element("p", { class: "verdict neutral" }, fault));
    return;
  }
  into.append(element("p", { class: "verdict " + head.tone }, element("strong", {}, head.word), " ", element("span", {}, head.text)));
  into.append(element("ul", { class: "figures" }, ...head.figures.map((f) =>
    element("li", {}, element("span", { class: "way" }, f.name), " ", element("span", { class: "amount" }, f.value), " " + f.unit,
      f.note ? element("span", { class: "note" }, " " + f.note) : null))));
}

function setUp() {
  const main = document.getElementById("content");
  if (!main || main.dataset.ready) return;
  main.dataset.ready = "yes";
  offerCopies(main);
  fold(main);
  pageTables(main);
  carriersOfPage(main);
  documentOfPage(main);
}
