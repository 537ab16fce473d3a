// Keeps the page (not the answers of the server) on the phone. The server is always asked first; only
// when it does not answer comes what was kept.
const kKept = 'weighwright-page-1';

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

async function from_server_or_kept(request) {
  const cache = await caches.open(kKept);
  try {
    const answer = await fetch(request);
    if (answer.ok) await cache.put(request, answer.clone());
    return answer;
  } catch (error) {
    const kept = await cache.match(request, { ignoreSearch: true });
    if (kept) return kept;
    throw error;
  }
}

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  const mine = event.request.method === 'GET' && url.origin === self.location.origin;
  if (!mine || url.pathname.includes('/api/')) return;
  event.respondWith(from_server_or_kept(event.request));
});
