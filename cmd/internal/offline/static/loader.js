// Starts the program of the pages, and shows what it answers in place of a server. The
// address of a page stands behind the # of this one's, so that it never leaves the device.
"use strict";

(() => {
  const policy = window.trustedTypes?.createPolicy("spectally", { createHTML: (s) => s, createScriptURL: (s) => s }) ??
    { createHTML: (s) => s, createScriptURL: (s) => s };
  const program = document.getElementById("program").dataset;
  const first = document.getElementById("start");
  let answer; // the function that the program gives

  const started = new Promise((resolve) => {
    window.spectallyStarted = (f) => {
      answer = f;
      resolve();
    };
  });

  function say(text) {
    document.getElementById("progress").textContent = text;
  }

  // packed gives the bytes of the program: those in this file, or those of a file beside it.
  async function packed() {
    if (program.file) {
      const response = await fetch(program.file);
      if (!response.ok) throw new Error(program.file + ": " + response.status);
      return response.body;
    }
    const holder = document.getElementById("program");
    const text = atob(holder.textContent);
    holder.remove();
    const bytes = new Uint8Array(text.length);
    for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
    return new Response(bytes).body;
  }

  // counted passes bytes on and shows how many of all have come.
  function counted() {
    const bar = document.getElementById("bar");
    let come = 0;
    return new TransformStream({
      transform(chunk, to) {
        come += chunk.length;
        bar.value = come / program.bytes;
        to.enqueue(chunk);
      },
    });
  }

  async function start() {
    const bytes = (await packed()).pipeThrough(new DecompressionStream("gzip")).pipeThrough(counted());
    const go = new Go();
    const response = new Response(bytes, { headers: { "Content-Type": "application/wasm" } });
    const { instance } = await WebAssembly.instantiateStreaming(response, go.importObject);
    say("Starting …");
    go.run(instance).then(() => { answer = null; });
    await started;
  }

  // split takes an address of a page apart.
  function split(address) {
    const [rest, part] = cut(address, "#");
    const [path, query] = cut(rest, "?");
    return { path: decodeURIComponent(path), query, part };
  }

  function cut(text, at) {
    const i = text.indexOf(at);
    return i < 0 ? [text, ""] : [text.slice(0, i), text.slice(i + 1)];
  }

  // ask asks the program for an address; body is a form or null.
  async function ask(address, method = "GET", body = null, type = "") {
    await started;
    if (!answer) throw new Error("the program has ended: load this page again");
    if (body !== null) {
      const sent = new Response(body);
      type = type || sent.headers.get("Content-Type") || "";
      body = new Uint8Array(await sent.arrayBuffer());
    }
    const { path, query } = split(address);
    const a = answer(method, path, query, type, body);
    const headers = new Headers();
    for (let i = 0; i < a.headers.length; i += 2) headers.append(a.headers[i], a.headers[i + 1]);
    return new Response(a.status === 303 ? null : a.body, { status: a.status, headers });
  }

  // The address that is shown; the part of it that a # begins leads to a place in the page.
  const shown = () => (location.hash.startsWith("#/") ? location.hash.slice(1) : "/");
  let last = "";

  function go(address) {
    location.hash = address;
  }

  // follow shows what an address answers. A form that was sent is answered once: its
  // answer has no address of its own.
  async function follow(address, method, body) {
    let response = await ask(address, method, body);
    for (let n = 0; response.status === 303 && n < 5; n++) {
      address = response.headers.get("Location");
      response = await ask(address);
      if (method === "POST") {
        history.pushState(null, "", "#" + address);
      } else {
        history.replaceState(history.state, "", "#" + address);
      }
      last = address;
    }
    const type = response.headers.get("Content-Type");
    if (type.startsWith("text/html")) {
      show(new DOMParser().parseFromString(policy.createHTML(await response.text()), "text/html"), address);
    } else {
      await offer(response, address);
    }
    if (!performance.getEntriesByName("spectally:page").length) performance.mark("spectally:page");
    document.dispatchEvent(new Event("spectally:page"));
  }

  // show puts a page in the place of the one that is shown.
  function show(page, address) {
    document.title = page.title;
    for (const a of page.querySelectorAll("a[href]")) {
      const href = a.getAttribute("href");
      if (href.startsWith("/")) a.setAttribute("href", "#" + href);
      else if (href.startsWith("#")) a.setAttribute("href", "#" + cut(address, "#")[0] + href);
    }
    document.body.className = page.body.className;
    document.body.replaceChildren(...page.body.childNodes);
    document.querySelector("footer")?.append(about());
  }

  function about() {
    const p = document.createElement("p");
    p.id = "version";
    p.textContent = program.version + ", without a server: nothing that is entered leaves this device.";
    return p;
  }

  // offer shows an answer that is data, to read and to save.
  const mostShown = 300000; // characters
  async function offer(response, address) {
    const blob = await response.blob();
    const text = await blob.text();
    const name = /filename="?([^";]+)/.exec(response.headers.get("Content-Disposition") || "")?.[1] || "answer.txt";
    const main = document.querySelector("main");
    const title = document.createElement("h1");
    title.textContent = name;
    document.title = name;
    const save = document.createElement("a");
    save.href = URL.createObjectURL(blob);
    save.download = name;
    save.textContent = "Save " + name;
    const line = document.createElement("p");
    line.append(save);
    const pre = document.createElement("pre");
    pre.className = "data";
    pre.tabIndex = 0;
    pre.textContent = text.length > mostShown ? text.slice(0, mostShown) + "\n…" : text;
    main.replaceChildren(title, line, pre);
  }

  // place goes to the part of a page that its address names, or to its top.
  function place(part, y) {
    const target = part && document.getElementById(decodeURIComponent(part));
    if (target) target.scrollIntoView();
    else scrollTo(0, y ?? 0);
  }

  async function arrive() {
    const address = shown();
    const [page, part] = cut(address, "#");
    if (page !== cut(last, "#")[0]) {
      last = page;
      try {
        await follow(page);
      } catch (e) {
        fail(e);
        return;
      }
      document.getElementById("content")?.focus({ preventScroll: true });
    }
    place(part, history.state?.y);
  }

  function fail(e) {
    const p = document.createElement("p");
    p.setAttribute("role", "alert");
    p.textContent = "This could not be shown: " + (e.message || e);
    (document.querySelector("main") || document.body).replaceChildren(p);
  }

  addEventListener("hashchange", arrive);
  history.scrollRestoration = "manual";
  let resting;
  addEventListener("scroll", () => {
    clearTimeout(resting);
    resting = setTimeout(() => history.replaceState({ y: scrollY }, ""), 200);
  }, { passive: true });

  document.addEventListener("click", (e) => {
    const a = e.target.closest?.("a[href^='/']"); // one that a script has made
    if (!a || e.defaultPrevented) return;
    e.preventDefault();
    go(a.getAttribute("href"));
  });

  document.addEventListener("submit", (e) => {
    if (e.defaultPrevented) return;
    e.preventDefault();
    const form = e.target;
    const button = e.submitter;
    const path = button?.getAttribute("formaction") || form.getAttribute("action") || cut(cut(shown(), "#")[0], "?")[0];
    const data = new FormData(form, button);
    if (form.method === "post") {
      last = path;
      follow(path, "POST", data).then(() => place(""), fail);
      return;
    }
    const address = path + "?" + new URLSearchParams(data);
    if (address === shown()) follow(address).catch(fail);
    else go(address);
  });

  // The same as the functions of the browser, for the scripts of the pages.
  window.spectally = {
    fetch: (address, o = {}) => ask(address, o.method, o.body ?? null, o.headers?.["Content-Type"]),
    address: () => cut(shown(), "#")[0],
    go,
  };

  // A folder on a server keeps its files in the browser, and says when it has newer ones.
  async function keep() {
    const worker = await navigator.serviceWorker.register(policy.createScriptURL("sw.js"));
    const tell = () => {
      if (!worker.waiting || !navigator.serviceWorker.controller) return;
      const p = document.createElement("p");
      p.id = "newer";
      p.setAttribute("role", "status");
      const use = document.createElement("button");
      use.type = "button";
      use.textContent = "Use it now";
      use.addEventListener("click", () => {
        navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
        worker.waiting.postMessage("use");
      });
      p.append("A newer version is here; otherwise it is used from the next start. ", use);
      document.getElementById("newer")?.remove();
      document.querySelector("main").prepend(p);
    };
    tell();
    worker.addEventListener("updatefound", () => worker.installing.addEventListener("statechange", tell));
    document.addEventListener("spectally:page", tell);
  }

  if (program.file && navigator.serviceWorker) keep().catch((e) => console.warn(e));
  start().then(arrive).catch((e) => {
    fail(e);
  });
})();
