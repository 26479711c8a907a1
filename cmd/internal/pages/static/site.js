// Conveniences. Every page does the same without them.
"use strict";

(() => {
  function button(text, action) {
    const b = document.createElement("button");
    b.type = "button";
    b.className = "second small";
    b.textContent = text;
    b.addEventListener("click", action);
    return b;
  }

  // A command line can be copied.
  for (const line of document.querySelectorAll(".shell")) {
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

  const form = document.getElementById("rows");
  if (!form) return;
  const list = form.querySelector("ol");

  // A row gets other names and a button that takes it away.
  function number() {
    let n = 0;
    for (const row of list.children) {
      n++;
      row.querySelector("legend").textContent = "Carrier " + n;
      for (const input of row.querySelectorAll("input")) {
        input.parentElement.querySelector("label").htmlFor = input.id = input.name + "-" + n;
      }
      const remove = row.querySelector("button");
      if (remove) remove.setAttribute("aria-label", "Remove carrier " + n);
    }
  }

  function equip(row) {
    row.querySelector("fieldset").append(button("Remove", () => {
      const next = row.nextElementSibling || row.previousElementSibling;
      if (next) {
        row.remove();
      } else {
        for (const input of row.querySelectorAll("input")) input.value = "";
      }
      number();
      (next || row).querySelector("input").focus();
    }));
  }

  // The widths that a band has are offered.
  const known = new Map();
  async function offer(row) {
    const band = row.querySelector("input[name=band]").value.trim().replace(/^\d+\s*[x×]\s*/i, "");
    const width = row.querySelector("input[name=width]");
    width.removeAttribute("list");
    if (!/^[nb]?\d{1,3}$/i.test(band)) return;
    const id = "widths-" + band.toLowerCase();
    if (!known.has(id)) {
      known.set(id, true);
      const address = "/bands.json?find=" + encodeURIComponent(/^\d/.test(band) ? "B" + band : band);
      const answer = await fetch(address).catch(() => null);
      if (!answer || !answer.ok) {
        known.delete(id);
        return;
      }
      const found = await answer.json();
      const widths = new Set(found.flatMap((b) => b.channel_bandwidths.map((c) => c.mhz)));
      const choices = document.createElement("datalist");
      choices.id = id;
      for (const w of [...widths].sort((a, b) => a - b)) {
        const o = document.createElement("option");
        o.value = w;
        choices.append(o);
      }
      form.append(choices);
    }
    width.setAttribute("list", id);
  }

  list.addEventListener("change", (e) => {
    if (e.target.name === "band") offer(e.target.closest("li"));
  });
  for (const row of list.children) {
    equip(row);
    offer(row);
  }
  number();

  form.querySelector("button[name=add]").addEventListener("click", (e) => {
    e.preventDefault();
    const row = list.lastElementChild.cloneNode(true);
    for (const extra of row.querySelectorAll("button, .findings")) extra.remove();
    for (const input of row.querySelectorAll("input")) input.value = "";
    list.append(row);
    equip(row);
    number();
    row.querySelector("input").focus();
  });
})();
