// A shelf keeps texts and logs on this device, each under a key of its own, so that two
// windows never write over what the other one keeps.

class Shelf {
  constructor(kind) {
    this.prefix = "spectally." + kind + ".";
    this.refused = false;
  }

  key(id) {
    return this.prefix + id;
  }

  read(id) {
    try {
      return JSON.parse(localStorage.getItem(this.key(id)));
    } catch {
      return null;
    }
  }

  // write keeps an entry, or says that the device does not.
  write(id, entry) {
    try {
      localStorage.setItem(this.key(id), JSON.stringify({ ...entry, changed: Date.now() }));
      this.refused = false;
    } catch {
      this.refused = true;
    }
    return !this.refused;
  }

  remove(id) {
    try {
      localStorage.removeItem(this.key(id));
    } catch {
      this.refused = true;
    }
  }

  // list has the entries, the one changed last in front.
  list() {
    const found = [];
    try {
      for (let i = 0; i < localStorage.length; i++) {
        const key = localStorage.key(i);
        if (!key.startsWith(this.prefix)) continue;
        const id = key.slice(this.prefix.length);
        const entry = this.read(id);
        if (entry) found.push({ id, ...entry });
      }
    } catch {
      this.refused = true;
    }
    return found.sort((a, b) => b.changed - a.changed);
  }

  get current() {
    try {
      return sessionStorage.getItem(this.prefix + "current") ?? "";
    } catch {
      return "";
    }
  }

  set current(id) {
    try {
      sessionStorage.setItem(this.prefix + "current", id);
    } catch {
      this.refused = true;
    }
  }
}

function freshID() {
  return Date.now().toString(36) + Math.random().toString(36).slice(2, 8);
}

function say(state, shelf) {
  const time = new Date().toTimeString().slice(0, 8);
  state.textContent = shelf.refused
    ? "Not saved: this device's storage is full or refused. Save the text as a file before you leave."
    : "Saved on this device at " + time;
  state.classList.toggle("wrong", shelf.refused);
}

function download(name, blob) {
  const address = URL.createObjectURL(blob);
  const a = element("a", { href: address, download: name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

// ask once before something goes.
function confirmOnce(question, text, then) {
  question.querySelector("p").textContent = text;
  question.hidden = false;
  question.querySelector("[data-do=yes]").onclick = () => {
    question.hidden = true;
    then();
  };
  question.querySelector("[data-do=no]").onclick = () => (question.hidden = true);
  question.querySelector("[data-do=no]").focus();
}

// drafts keeps what is typed into the text box of a page, under several names.
function drafts(text, main) {
  const kind = "text" + (window.spectally?.address() ?? location.pathname).split("?")[0].replace(/\W/g, "-");
  const shelf = new Shelf(kind);
  let id = shelf.current || freshID();
  const choice = element("select", { id: "draft-choice" });
  const state = element("p", { class: "state", role: "status" });
  const question = element("div", { class: "question", hidden: true }, element("p"),
    element("p", { class: "buttons" }, element("button", { type: "button", "data-do": "yes" }, "Delete"), element("button", { type: "button", class: "second", "data-do": "no" }, "Keep")));
  const nameOf = (s) => (/^\s*(?:title|name)\s*=\s*["'](.*)["']/m.exec(s)?.[1] || s.trim().split("\n")[0] || "empty").slice(0, 60);

  function offer() {
    const list = shelf.list();
    choice.replaceChildren(element("option", { value: "" }, list.length ? "Choose a text kept here" : "Nothing kept yet"),
      ...list.map((e) => element("option", { value: e.id, selected: e.id === id }, nameOf(e.text) + ", " + new Date(e.changed).toLocaleString())));
  }
  text.addEventListener("input", () => {
    if (text.value.trim()) shelf.write(id, { text: text.value });
    shelf.current = id;
    say(state, shelf);
    offer();
  });
  choice.addEventListener("change", () => {
    const entry = shelf.read(choice.value);
    if (!entry) return;
    id = shelf.current = choice.value;
    text.value = entry.text;
  });
  const another = button("New text", () => {
    id = shelf.current = freshID();
    text.value = "";
    offer();
    text.focus();
  }, "second");
  const away = button("Delete", () => {
    const entry = shelf.read(id);
    if (entry) confirmOnce(question, "Delete “" + nameOf(entry.text) + "” from this device?", () => {
      shelf.remove(id);
      id = freshID();
      text.value = "";
      offer();
    });
  }, "second");
  addEventListener("storage", offer);
  if (!text.value.trim() && shelf.read(id)) text.value = shelf.read(id).text;
  text.closest(".field").before(element("div", { class: "bar field wide" }, element("label", { for: "draft-choice" }, "Kept on this device"), choice,
    element("p", { class: "buttons" }, another, away), state, question));
  offer();
}
