// Carriers in rows, beside the same carriers in one line of the notation. Which of the two
// is changed does not matter: the site writes the other, says what is wrong, and what the
// carriers come to.

function carrierRows({ list, blank, text, prefix, add, changed }) {
  let turn = 0;
  let written = text.value;
  const controls = (row) => [...row.querySelectorAll("select[name], input[name]")];

  function number() {
    [...list.children].forEach((row, i) => {
      row.querySelector("legend").textContent = "Carrier " + (i + 1);
      for (const c of controls(row)) {
        c.closest(".field").querySelector("label").htmlFor = c.id = prefix + c.name + "-" + (i + 1);
      }
      row.querySelector(".remove").setAttribute("aria-label", "Remove carrier " + (i + 1));
    });
  }

  function equip(row) {
    const fieldset = row.querySelector("fieldset");
    row.querySelector(".offers")?.remove();
    const findings = row.querySelector(".findings") ?? element("ul", { class: "findings", hidden: true });
    fieldset.querySelector("details").before(element("div", { class: "offers" }), findings);
    fieldset.append(button("Remove", () => {
      const next = row.nextElementSibling || row.previousElementSibling;
      if (next) row.remove();
      else for (const c of controls(row)) c.value = "";
      number();
      (next || row).querySelector("select").focus();
      rowsChanged();
    }, "second small remove"));
    const sinr = row.querySelector('[name="c-sinr"]');
    const sign = button("±", () => {
      sinr.value = sinr.value.startsWith("-") ? sinr.value.slice(1) : "-" + sinr.value;
      rowsChanged();
    }, "second small sign");
    sign.setAttribute("aria-label", "Change the sign of the SINR");
    const both = element("div", { class: "signed" });
    sinr.replaceWith(both);
    both.append(sinr, sign);
  }

  function append() {
    const row = blank.content.firstElementChild.cloneNode(true);
    list.append(row);
    equip(row);
    number();
    return row;
  }

  function choices(select, values, current) {
    const wanted = ["", ...(current && !values.includes(current) ? [current] : []), ...values];
    if (wanted.join("\n") !== [...select.options].map((o) => o.value).join("\n")) {
      select.replaceChildren(...wanted.map((v) => element("option", { value: v }, v)));
    }
    select.value = current;
  }

  function set(row, name, value) {
    const c = row.querySelector(`[name="${name}"]`);
    if (c.tagName === "SELECT" && value && ![...c.options].some((o) => o.value === value)) c.append(element("option", { value }, value));
    c.value = value;
  }

  function show(row, is, values) {
    for (const c of controls(row)) {
      const now = values ? is.cells[c.name] : c.value;
      const offered = is.choices[c.name];
      if (offered && c.tagName === "SELECT") choices(c, offered, now);
      else if (values) set(row, c.name, now);
      if (offered && c.tagName === "INPUT") suggest(c, offered);
      c.toggleAttribute("aria-invalid", false);
    }
    const offers = row.querySelector(".offers");
    offers.replaceChildren(...is.offers.map((o) => button(o.text, () => {
      for (const [name, value] of Object.entries(o.set)) set(row, name, value);
      rowsChanged();
    })));
    const findings = row.querySelector(".findings");
    findings.hidden = is.findings.length === 0;
    findings.replaceChildren(...is.findings.map((f) => element("li", { class: f.severity }, element("strong", {}, f.severity), " " + f.text)));
    for (const f of is.findings) {
      if (f.cell && f.severity === "error") row.querySelector(`[name="${f.cell}"]`)?.setAttribute("aria-invalid", "true");
    }
  }

  function suggest(input, values) {
    const id = "suggested-" + input.id;
    let options = document.getElementById(id);
    if (!options) {
      options = element("datalist", { id });
      input.after(options);
      input.setAttribute("list", id);
    }
    options.replaceChildren(...values.map((value) => element("option", { value })));
  }

  // What a number can be is certain only once all of it is typed.
  async function refresh(fromText, settled) {
    const mine = ++turn;
    const query = new URLSearchParams();
    if (fromText) query.set("carriers", text.value);
    else for (const row of list.children) for (const c of controls(row)) query.append(c.name, c.value);
    const is = await askJSON("/form?" + query);
    if (mine !== turn) return;
    if (!is) {
      setTimeout(() => mine === turn && refresh(fromText, settled), 2000); // who answers is busy
      return;
    }
    if (fromText) {
      const wanted = Math.max(is.rows.length, 1);
      while (list.children.length > wanted) list.lastElementChild.remove();
      while (list.children.length < wanted) append();
      if (is.rows.length === 0) for (const c of controls(list.firstElementChild)) c.value = "";
      number();
    } else if (document.activeElement !== text || text.value === written) {
      written = text.value = is.carriers; // not while somebody types there
    }
    is.rows.forEach((r, i) => show(list.children[i], r, fromText));
    const sure = settled ? is.rows.findIndex((r) => r.offers.some((o) => o.alone)) : -1;
    if (sure >= 0) {
      for (const [name, value] of Object.entries(is.rows[sure].offers[0].set)) set(list.children[sure], name, value);
      rowsChanged();
    }
    changed(is, fromText);
  }
  const soon = later((settled) => refresh(last === "text", settled));
  let last = null;

  function rowsChanged(settled) {
    last = "rows";
    soon(settled);
  }
  list.addEventListener("input", () => rowsChanged(false));
  list.addEventListener("change", (e) => rowsChanged(e.target.tagName === "INPUT"));
  text.addEventListener("input", () => {
    last = "text";
    soon(false);
  });
  add.type = "button";
  add.addEventListener("click", () => append().querySelector("select").focus());
  for (const row of list.children) equip(row);
  number();
  return { refresh, edited: () => last };
}

// carriersOfPage makes the form of a page alive.
function carriersOfPage(main) {
  const form = main.querySelector("#rows");
  if (!form) return;
  const list = form.querySelector("ol.carriers");
  const text = form.querySelector("[name=carriers]");
  const live = element("div", { class: "headline live", "aria-live": "polite", hidden: true });
  list.before(live);
  const rows = carrierRows({
    list, text, prefix: "", blank: form.querySelector("template"), add: form.querySelector("[name=add]"),
    changed: (is) => writeHeadline(live, is.headline, is.fault),
  });
  form.addEventListener("submit", () => {
    if (rows.edited() === "rows") form.querySelector("[name=was]").value = text.value;
  });
}
