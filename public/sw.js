// Keeps the whole program on the phone, so that it opens in a yard with no signal.
//
// The build puts `const BUILD = { id, files: [[path, "sha256-…"], …] }` before this text. A cache
// belongs to one build and is used only when every file of that build is in it and is, by its hash,
// the file of that build: the page never sees a mixture of two versions.
//
// The page registers "./sw.js" and watches the registration: a newer version that is complete stands
// in `registration.waiting`. It waits there until the user taps; then the page sends it the message
// "take over", the browser fires `controllerchange`, and the page loads itself again. Nothing is ever
// forced in the middle of work.

const PREFIX = `swingtie ${self.registration.scope} `;
const CACHE = PREFIX + BUILD.id;
const PAGE = "./index.html";
const KEPT = new Set(BUILD.files.map(([path]) => new URL(path, self.registration.scope).href));

async function keepAll() {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(
      BUILD.files.map(async ([path, integrity]) => {
        const answer = await fetch(path, { cache: "no-cache", credentials: "same-origin", integrity });
        if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
        await cache.put(path, await plain(answer));
      }),
    );
  } catch (error) {
    // An unfinished copy goes. The version in use is another build and keeps its own cache.
    await caches.delete(CACHE);
    throw error;
  }
}

// A page may not be answered with a response that was redirected on its way.
async function plain(answer) {
  if (!answer.redirected) return answer;
  return new Response(await answer.blob(), { status: answer.status, headers: answer.headers });
}

async function dropOlder() {
  const names = await caches.keys();
  await Promise.all(
    names.filter((name) => name.startsWith(PREFIX) && name !== CACHE).map((name) => caches.delete(name)),
  );
}

async function kept(request) {
  const cache = await caches.open(CACHE);
  const found = await cache.match(request.mode === "navigate" ? PAGE : request);
  return found ?? fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(keepAll()));

self.addEventListener("activate", (event) => event.waitUntil(dropOlder().then(() => self.clients.claim())));

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

// A file shared with the installed app: put aside for the page, which is then opened (`handed` in start.js).
async function putAside(request) {
  const file = (await request.formData()).get("file");
  if (file instanceof File) {
    const cache = await caches.open("swingtie received");
    const headers = { "x-name": encodeURIComponent(file.name) };
    await cache.put("./received", new Response(file, { headers }));
  }
  return Response.redirect("./", 303);
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "POST" && new URL(request.url).pathname.endsWith("/received")) {
    event.respondWith(putAside(request));
    return;
  }
  if (request.method !== "GET") return;
  const url = new URL(request.url);
  url.hash = "";
  if (url.origin !== self.location.origin) return;
  if (request.mode === "navigate" || KEPT.has(url.href)) event.respondWith(kept(request));
});
