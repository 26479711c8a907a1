// Keeps the files of one version in the browser, whole or not at all, and answers with
// them. A newer version waits until no page uses this one, or until one asks for it.
"use strict";

const { version, files } = VERSION;
const name = "spectally " + version;

// The file of a request; undefined for none of ours.
function ours(request) {
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return undefined;
  return files.find((f) => new URL(f.path, location).pathname === url.pathname);
}

async function fetched(file) {
  const response = await fetch(file.path, { cache: "no-cache" });
  const bytes = await response.arrayBuffer();
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  const hex = Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("");
  if (!response.ok || hex !== file.sha256) throw new Error(file.path + " is not that of " + version);
  // A new one: what came by way of another address would not be taken for a page.
  return new Response(bytes, { headers: { "Content-Type": response.headers.get("Content-Type") || "" } });
}

async function install() {
  try {
    const responses = await Promise.all(files.map(fetched));
    const cache = await caches.open(name);
    await Promise.all(files.map((f, i) => cache.put(f.path, responses[i])));
  } catch (e) {
    await caches.delete(name);
    throw e;
  }
}

async function activate() {
  for (const other of await caches.keys()) {
    if (other.startsWith("spectally ") && other !== name) await caches.delete(other);
  }
  await clients.claim();
}

async function answer(file) {
  const cache = await caches.open(name);
  return (await cache.match(file.path)) || fetched(file);
}

self.addEventListener("install", (e) => e.waitUntil(install()));
self.addEventListener("activate", (e) => e.waitUntil(activate()));
self.addEventListener("message", (e) => {
  if (e.data === "use") self.skipWaiting();
});
self.addEventListener("fetch", (e) => {
  const file = ours(e.request);
  if (file) e.respondWith(answer(file));
});
