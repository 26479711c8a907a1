// A file as one fills it in: a field log, the plan of a site, what networks hold. Each keystroke is kept on the device as a change to what
// is kept there, so that windows, reloads and crashes lose nothing.

// find is the item that a path of lists and ids leads to.
function findItem(log, at) {
  return at.reduce((item, [list, id]) => item?.lists[list]?.find((i) => i.id === id), log);
}

// applyChange changes a log and returns the change that undoes it; null if there is nothing
// to change any more.
function applyChange(log, c) {
  const item = findItem(log, c.at);
  if (!item) return null;
  switch (c.do) {
    case "set": {
      const before = item.values[c.key] ?? "";
      if (c.value === "") delete item.values[c.key];
      else item.values[c.key] = c.value;
      return { ...c, value: before };
    }
    case "all": {
      const backs = c.changes.map((one) => applyChange(log, one)).filter(Boolean);
      return backs.length ? { do: "all", at: c.at, changes: backs.reverse() } : null;
    }
    case "insert": {
      const list = (item.lists[c.list] ??= []);
      list.splice(Math.min(c.index, list.length), 0, c.item);
      return { do: "remove", at: c.at, list: c.list, id: c.item.id };
    }
    case "remove": {
      const list = item.lists[c.list] ?? [];
      const index = list.findIndex((i) => i.id === c.id);
      if (index < 0) return null;
      const [gone] = list.splice(index, 1);
      return { do: "insert", at: c.at, list: c.list, index, item: gone };
    }
  }
  return null;
}

function withIDs(item) {
  item.id = freshID();
  item.values ??= {};
  item.lists ??= {};
  for (const list of Object.values(item.lists)) list.forEach(withIDs);
  return item;
}

function stamp(withDate) {
  const d = new Date();
  const two = (n) => String(n).padStart(2, "0");
  const date = d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate());
  return withDate ? date + " " + two(d.getHours()) + ":" + two(d.getMinutes()) : date;
}

function logbook(book, main) {
  const { page, noun, title: titleKey, untitled } = book.dataset;
  const shelf = new Shelf(noun);
  const body = book.querySelector("#log-body");
  const choice = book.querySelector("#log-choice");
  const state = book.querySelector(".state");
  const question = book.querySelector(".question");
  const templates = new Map([...book.querySelectorAll("template[data-section]")].map((t) => [t.dataset.section, t]));
  const undone = [];
  let id = "";
  let log = null;
  let last = null; // what the site said of it
  let ids = 0;

  const titleOf = (l) => l.values[titleKey] || l.values.place || untitled;

  function offer() {
    choice.replaceChildren(...shelf.list().map((e) =>
      element("option", { value: e.id, selected: e.id === id }, titleOf(e.log) + (e.log.values.date ? ", " + e.log.values.date : ""))));
    if (shelf.refused && log) choice.append(element("option", { selected: true }, titleOf(log)));
  }

  function keep() {
    shelf.write(id, { log });
    shelf.current = id;
    say(state, shelf);
    judge();
  }

  // change applies a change to what is kept, not to what this window believes.
  function change(c) {
    log = (shelf.refused ? null : shelf.read(id)?.log) ?? log;
    const back = applyChange(log, c);
    if (!back) return;
    const top = undone.at(-1);
    const same = c.do === "set" && top?.do === "set" && top.key === c.key && JSON.stringify(top.at) === JSON.stringify(c.at);
    if (!same) undone.push(back);
    keep();
    if (c.key === titleKey || c.key === "date") offer();
  }

  function open(which, l) {
    id = which;
    log = l;
    undone.length = 0;
    keep();
    offer();
    render();
  }

  function fresh() {
    open(freshID(), { v: 1, id: "log", values: { [titleKey]: untitled + " " + stamp(true), ...(templates.get("").content.querySelector("[data-key=date]") && { date: stamp(false) }) }, lists: {} });
  }

  // kept is what the last item of a list had in the fields that stay until they are changed.
  function kept(template, list) {
    const values = {};
    const before = list.at(-1)?.values ?? {};
    for (const field of template.content.querySelectorAll("[data-kept]")) {
      if (before[field.dataset.key]) values[field.dataset.key] = before[field.dataset.key];
    }
    return values;
  }

  function render() {
    const focus = document.activeElement?.dataset?.path;
    body.replaceChildren(build("", log, [], ""));
    if (focus) body.querySelector(`[data-path="${CSS.escape(focus)}"]`)?.focus();
    names();
    judge();
  }

  // names offers the networks to the fields that take one.
  function names() {
    const list = (log.lists.network ?? []).map((n) => n.values.name).filter(Boolean);
    for (const select of body.querySelectorAll("[data-networks]")) {
      const now = select.value || select.dataset.now || "";
      select.replaceChildren(...["", ...new Set([...list, ...(now ? [now] : [])])].map((n) => element("option", { value: n, selected: n === now }, n)));
    }
  }

  // renamed lets the claims about a network follow its name, where no other has the old one.
  function renamed(was, name) {
    if (!was || !name || was === name || (log.lists.network ?? []).some((n) => n.values.name === was)) return;
    const changes = [];
    for (const claim of log.lists.claim ?? []) {
      for (const key of ["network", "than"]) {
        if (claim.values[key] === was) changes.push({ do: "set", at: [["claim", claim.id]], key, value: name });
      }
    }
    if (!changes.length) return;
    change({ do: "all", at: [], changes });
    render();
  }

  function build(section, item, at, path) {
    const template = templates.get(section);
    const root = template.content.firstElementChild.cloneNode(true);
    root.dataset.item = path;
    const number = path ? Number(path.split("/").at(-1)) + 1 : 0;
    const title = root.querySelector(".item-title");
    const entitle = () => {
      const plain = path ? template.dataset.name + " " + number : "";
      const name = item.values.name;
      title.textContent = name && name !== plain ? plain + ": " + name : plain;
    };
    entitle();
    title.hidden = !path;
    for (const c of root.querySelectorAll("[data-key]")) {
      const key = c.dataset.key;
      c.id = "log-" + ++ids;
      c.dataset.path = (path ? path + "/" : "") + key;
      const field = c.closest(".field");
      const label = field.querySelector("label");
      label.htmlFor = c.id;
      const wrong = field.querySelector(".wrong");
      if (wrong) {
        wrong.id = c.id + "-wrong";
        c.setAttribute("aria-describedby", wrong.id);
      }
      const value = item.values[key] ?? "";
      if (c.type === "checkbox") c.checked = value === "yes";
      else if (c.tagName === "SELECT" && c.hasAttribute("data-networks")) c.dataset.now = value;
      else {
        if (c.tagName === "SELECT" && value && ![...c.options].some((o) => o.value === value)) c.append(element("option", { value }, value));
        c.value = value;
      }
      c.addEventListener("input", () => {
        change({ do: "set", at, key, value: c.type === "checkbox" ? (c.checked ? "yes" : "") : c.value });
        item.values[key] = c.value;
        if (key === "name") {
          entitle();
          names();
        }
        if (key === "~kind") kinds(root);
      });
      if (section === "network" && key === "name") {
        let was = value;
        c.addEventListener("change", () => {
          renamed(was, c.value);
          was = c.value;
        });
      }
      field.querySelector("[data-extra]")?.addEventListener("click", (e) => extra(e.currentTarget, c, root, at));
    }
    if (item.values["~started"]) root.querySelector("[data-extra=watch]").textContent = "Stop";
    for (const more of root.querySelectorAll("details.more")) {
      more.open = [...more.querySelectorAll("[data-key]")].some((c) => c.value && c.type !== "checkbox");
    }
    const list = root.querySelector("ol.carriers");
    if (list) carriers(root, list, at);
    for (const holder of root.querySelectorAll("[data-list]")) {
      const name = holder.dataset.list;
      (item.lists[name] ?? []).forEach((sub, i) => holder.append(build(name, sub, [...at, [name, sub.id]], (path ? path + "/" : "") + name + "/" + i)));
      root.querySelector(`[data-add="${name}"]`).addEventListener("click", () => {
        const now = findItem(log, at).lists[name] ?? [];
        const values = kept(templates.get(name), now);
        if (templates.get(name).content.querySelector("[data-extra=now]")) values.when = stamp(true);
        if (templates.get(name).hasAttribute("data-named")) values.name = templates.get(name).dataset.name + " " + (now.length + 1);
        const added = withIDs({ values, lists: {} });
        change({ do: "insert", at, list: name, index: now.length, item: added });
        render();
        const items = body.querySelectorAll(`[data-item="${(path ? path + "/" : "") + name + "/" + now.length}"]`);
        const first = items[0]?.querySelector(".large [data-key], [data-key]");
        first?.focus();
        first?.scrollIntoView({ block: "center" });
      });
    }
    kinds(root);
    if (path) {
      const remove = button("Delete", () => confirmRemoval(root, template.dataset.name.toLowerCase() + " " + number, () => {
        const [name, gone] = at.at(-1);
        change({ do: "remove", at: at.slice(0, -1), list: name, id: gone });
        render();
      }));
      remove.setAttribute("aria-label", "Delete " + title.textContent);
      title.after(remove);
    }
    return root;
  }

  function confirmRemoval(root, what, then) {
    const asked = question.cloneNode(true);
    root.querySelector(".item-title").after(asked);
    confirmOnce(asked, "Delete " + what + "? Undo brings it back.", then);
  }

  // kinds shows the fields of the kind of claim that is chosen.
  function kinds(root) {
    const select = root.querySelector(":scope > .field > [data-key='~kind']");
    if (!select) return;
    const fields = [...root.querySelectorAll(".field[data-kind]")];
    const used = fields.find((f) => f.querySelector("[data-key]").value && !f.classList.contains("tick") || f.querySelector(":checked[type=checkbox]"));
    if (!select.value && used) select.value = used.dataset.kind;
    for (const f of fields) f.hidden = f.dataset.kind !== select.value;
  }

  function carriers(root, list, at) {
    const text = root.querySelector("[data-key=carriers]");
    const head = root.querySelector(".headline");
    const rows = carrierRows({
      list, text, prefix: "log-" + ++ids + "-", blank: book.querySelector("#blank-carrier"), add: root.querySelector("[data-carrier]"),
      changed: (is, fromText) => {
        writeHeadline(head, is.headline, is.fault);
        if (!fromText && rows.edited() === "rows") change({ do: "set", at, key: "carriers", value: text.value });
      },
    });
    rows.refresh(true);
  }

  function extra(b, c, root, at) {
    const put = (control, value) => {
      control.value = value;
      control.dispatchEvent(new Event("input"));
    };
    switch (b.dataset.extra) {
      case "now":
        put(c, stamp(true));
        break;
      case "sign":
        put(c, c.value.startsWith("-") ? c.value.slice(1) : "-" + c.value);
        break;
      case "watch": {
        const started = findItem(log, at)?.values["~started"];
        change({ do: "set", at, key: "~started", value: started ? "" : String(Date.now()) });
        b.textContent = started ? "Start" : "Stop";
        if (started) put(c, ((Date.now() - Number(started)) / 1000).toFixed(1));
        break;
      }
      case "here": {
        const wrong = c.closest(".field").querySelector(".wrong");
        const no = (text) => {
          wrong.textContent = text;
          wrong.hidden = false;
        };
        if (!navigator.geolocation) {
          no("This device tells no position.");
          break;
        }
        navigator.geolocation.getCurrentPosition((p) => {
          put(c, p.coords.latitude.toFixed(5));
          put(root.querySelector("[data-key=lon]"), p.coords.longitude.toFixed(5));
        }, (e) => no("No position: " + e.message));
      }
    }
  }

  const judge = later(async () => {
    const asked = log;
    const is = await askJSON("/logbook", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ page, log: asked }) });
    if (!is) {
      setTimeout(judge, 2000); // who answers is busy
      return;
    }
    if (asked !== log && JSON.stringify(asked) !== JSON.stringify(log)) return;
    last = is;
    for (const wrong of body.querySelectorAll(".wrong")) wrong.hidden = true;
    for (const c of body.querySelectorAll("[data-path]")) c.removeAttribute("aria-invalid");
    const rest = [];
    for (const f of is.faults) {
      const c = body.querySelector(`[data-path="${CSS.escape(f.path)}"]`);
      const wrong = c?.closest(".field").querySelector(".wrong");
      if (wrong) {
        wrong.textContent = f.text;
        wrong.hidden = false;
        c.setAttribute("aria-invalid", "true");
      } else {
        const title = f.path && body.querySelector(`[data-item="${CSS.escape(f.path)}"] .item-title`)?.textContent;
        rest.push((title ? title + ": " : "") + f.text);
      }
    }
    book.querySelector(".out .faults").replaceChildren(...rest.map((text) => element("li", {}, text)));
    for (const item of body.querySelectorAll("[data-item]")) {
      const share = item.querySelector(":scope > .share");
      if (share) share.textContent = is.shares[item.dataset.item] ?? "";
    }
    book.querySelector(".out .lines").replaceChildren(...is.lines.map((l) => element("li", {}, element("strong", {}, l.name), " " + l.text)));
  }, 150);

  async function toml() {
    const is = await askJSON("/logbook", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ page, log }) });
    return is?.toml ?? "";
  }

  const file = async () => new File([await toml()], fileName() + ".toml", { type: "text/plain" });
  const fileName = () => (titleOf(log).toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || noun).slice(0, 60);

  const actions = {
    new: fresh,
    undo() {
      const back = undone.pop();
      if (!back) return;
      log = (shelf.refused ? null : shelf.read(id)?.log) ?? log;
      applyChange(log, back);
      keep();
      offer();
      render();
    },
    delete() {
      confirmOnce(question, "Delete “" + titleOf(log) + "” from this device? This cannot be undone.", () => {
        shelf.remove(id);
        const next = shelf.list()[0];
        if (next) open(next.id, next.log);
        else fresh();
      });
    },
    async report() {
      main.querySelector("#f-text").value = await toml();
      main.querySelector("#f-text").form.requestSubmit();
    },
    async export() {
      const f = await file();
      download(f.name, f);
    },
    async share() {
      try {
        await navigator.share({ files: [await file()], title: titleOf(log) });
      } catch {
        // whoever breaks it off wants no message
      }
    },
    picture: () => picture().toBlob((blob) => download(fileName() + ".png", blob)),
  };

  // picture draws the lines of the report as a card.
  function picture() {
    const canvas = element("canvas", { width: 1080, height: 360 + 150 * (last?.lines.length ?? 0) });
    const g = canvas.getContext("2d");
    const style = getComputedStyle(document.documentElement);
    g.fillStyle = style.getPropertyValue("--paper");
    g.fillRect(0, 0, canvas.width, canvas.height);
    g.fillStyle = style.getPropertyValue("--water");
    g.fillRect(0, 0, canvas.width, 14);
    const write = (text, size, y, weight, colour) => {
      g.fillStyle = style.getPropertyValue(colour);
      g.font = weight + " " + size + "px system-ui, sans-serif";
      let line = "";
      for (const word of text.split(" ")) {
        if (g.measureText(line + word).width > canvas.width - 120 && line) {
          g.fillText(line, 60, y);
          y += size * 1.3;
          line = "";
        }
        line += word + " ";
      }
      g.fillText(line, 60, y);
      return y + size * 1.3;
    };
    let y = write(titleOf(log), 52, 100, 650, "--ink");
    y = write([log.values.place, log.values.date].filter(Boolean).join(", "), 30, y, 400, "--quiet") + 20;
    for (const l of last?.lines ?? []) {
      y = write(l.name, 38, y, 650, "--ink");
      y = write(l.text, 30, y, 400, "--ink") + 14;
    }
    write("spectally. Ceilings and plans, no promise.", 24, canvas.height - 40, 400, "--quiet");
    return canvas;
  }

  for (const [name, action] of Object.entries(actions)) book.querySelector(`[data-do=${name}]`).addEventListener("click", action);
  book.querySelector("[data-do=share]").hidden = !navigator.canShare?.({ files: [new File(["x"], "log.toml", { type: "text/plain" })] });
  choice.addEventListener("change", () => {
    const entry = shelf.read(choice.value);
    if (entry) open(choice.value, entry.log);
  });
  book.querySelector("#log-import").addEventListener("change", async (e) => {
    const chosen = e.target.files[0];
    if (!chosen) return;
    const is = await askJSON("/logbook", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ page, toml: await chosen.text() }) });
    e.target.value = "";
    if (is?.log) open(freshID(), { v: 1, ...withIDs(is.log), id: "log" });
    else book.querySelector(".out .faults").replaceChildren(...(is?.faults ?? [{ text: "This cannot be read." }]).map((f) => element("li", {}, f.text)));
  });
  addEventListener("storage", (e) => {
    if (!e.key?.startsWith(shelf.prefix)) return;
    offer();
    const entry = e.key === shelf.key(id) ? shelf.read(id) : null;
    if (!entry) return;
    log = entry.log;
    render();
  });

  book.hidden = false;
  if (small.matches) main.querySelector("details.as-text").open = false;
  const start = shelf.read(shelf.current) ? shelf.current : shelf.list()[0]?.id;
  const entry = start ? shelf.read(start) : null;
  if (entry) {
    id = shelf.current = start;
    log = entry.log;
    offer();
    render();
  } else {
    fresh();
  }
}

function documentOfPage(main) {
  const book = main.querySelector("#logbook");
  const text = main.querySelector("#f-text");
  if (book) logbook(book, main);
  else if (text) drafts(text, main);
}
