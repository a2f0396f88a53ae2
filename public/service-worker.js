/**
 * Keeps what is needed where the network does not reach: the form for a find, and the bench records this device opened.
 * What is written there waits in the outboxes of those pages (components/salvage/outbox.ts, components/bench/change-queue.ts);
 * this worker only brings the pages themselves. Everything else always comes from the network.
 */
/** Deleted by components/shell/keep-offline.tsx when somebody signs out. */
const PAGES = 'furcula-pages';
/** Files whose names change with their content. */
const FILES = 'furcula-files';
const MOST_PAGES = 40;
const MOST_FILES = 600;
const NETWORK_MS = 6000;

const KEPT_PAGE = /^\/(salvage\/new|bench\/[0-9a-f]{8}-[0-9a-f-]{27})$/;
const FILE = /^\/(_next\/static|icons|words)\//;
const NAMED_FILES = /static\/[\w./~-]+\.(?:js|css|woff2)/g;

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

/** How often somebody left: a page that was fetched for one person is not kept after that. */
let leavings = 0;

self.addEventListener('message', (event) => {
  const { keep, forget } = event.data ?? {};
  if (forget === true) {
    leavings += 1;
    event.waitUntil(caches.delete(PAGES));
  }
  if (typeof keep === 'string' && KEPT_PAGE.test(keep)) event.waitUntil(keepPage(keep));
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (FILE.test(url.pathname)) event.respondWith(fromFiles(request));
  else if (request.mode === 'navigate') event.respondWith(fromNetworkFirst(event, url));
});

async function fromFiles(request) {
  const kept = await caches.match(request, { cacheName: FILES });
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok) await put(FILES, request, answer.clone(), MOST_FILES);
  return answer;
}

async function fromNetworkFirst(event, { pathname }) {
  const isKept = KEPT_PAGE.test(pathname);
  const kept = isKept ? await caches.match(pathname, { cacheName: PAGES }) : undefined;
  try {
    const answer = await fetch(event.request, kept ? { signal: AbortSignal.timeout(NETWORK_MS) } : undefined);
    // Who is led to the sign-in page is not the person whose pages are kept.
    if (isKept && answer.type === 'opaqueredirect') await caches.delete(PAGES);
    return answer;
  } catch {
    return kept ?? withoutNetwork();
  }
}

/** Fetches a page as a navigation would, with the files it names and those of its parts that are loaded later. */
async function keepPage(pathname) {
  const before = leavings;
  const answer = await fetch(pathname, { redirect: 'manual', headers: { accept: 'text/html' } });
  if (!answer.ok) return;
  const text = await answer.clone().text();
  if (leavings !== before) return;
  await put(PAGES, pathname, answer, MOST_PAGES);
  const known = new Set();
  let found = filesNamedIn(text);
  while (found.length > 0) {
    for (const name of found) known.add(name);
    const inner = await Promise.all(found.map(keepFile));
    found = [...new Set(inner.flat())].filter((name) => !known.has(name));
  }
}

const filesNamedIn = (text) => [...new Set([...text.matchAll(NAMED_FILES)].map(([name]) => `/_next/${name}`))];

/** Keeps a file; the answer is the files that a script loads when it needs them. */
async function keepFile(name) {
  const answer = await fromFiles(new Request(name)).catch(() => undefined);
  return answer?.ok && name.endsWith('.js') ? filesNamedIn(await answer.text()) : [];
}

async function put(cacheName, key, answer, most) {
  const cache = await caches.open(cacheName);
  await cache.delete(key);
  await cache.put(key, answer);
  const keys = await cache.keys();
  await Promise.all(keys.slice(0, Math.max(0, keys.length - most)).map((old) => cache.delete(old)));
}

async function withoutNetwork() {
  const kept = await (await caches.open(PAGES)).keys();
  const links = kept.map(({ url }) => new URL(url).pathname).map(describePage);
  const list = links.length === 0 ? '' : `<p>These pages work without it:</p><ul>${links.join('')}</ul>`;
  const page = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>No connection · Furcula</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><style>
:root { color-scheme: light dark; }
body { max-width: 34rem; margin: 15vh auto; padding: 0 1.25rem; font: 1.125rem/1.6 system-ui, sans-serif; }
a { display: inline-block; padding: 0.5rem 0; }
</style></head><body><main><h1>No connection</h1>
<p>Furcula cannot be reached from here. What you wrote and sent waits on this device and is sent when the connection is back.</p>
${list}<p><a href="">Try this page again</a></p></main></body></html>`;
  return new Response(page, { status: 503, headers: { 'content-type': 'text/html; charset=utf-8' } });
}

const describePage = (pathname) =>
  `<li><a href="${pathname}">${pathname === '/salvage/new' ? 'Report a find' : 'A bench record opened on this device'}</a></li>`;
