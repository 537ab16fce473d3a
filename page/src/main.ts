import { mount } from 'svelte';
import App from './App.svelte';
import { app } from './state.svelte';
import { load_later_views } from './later';
import { load_settings } from './settings';
import { browser_language, choose_language, load_spanish, type LanguageCode } from './texts/say.svelte';
import './theme.css';

const kAfterFirst_ms = 500;  // the first view is drawn before anything else is fetched

/** The parts that are not needed for the first view are fetched as soon as it stands: at the pit the
 *  server may be gone when they are wanted. */
async function fetch_the_rest(): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, kAfterFirst_ms));
  await Promise.all([load_spanish(), load_later_views()]);
}

const target = document.getElementById('app');
if (!target) throw new Error('index.html has no element #app');
const wanted = (load_settings().language as LanguageCode | null) ?? browser_language();
await choose_language(wanted).catch(() => undefined);
target.replaceChildren();
mount(App, { target });
const rest = app.start().then(fetch_the_rest);
rest.catch((error: unknown) => console.warn('not fetched', error));

// The page itself is kept on the phone, so that it opens while the server is gone and shows what
// waits to be sent. Only where the browser allows it (a secure context).
async function keep_page(): Promise<void> {
  await navigator.serviceWorker.register('sw.js');
  await navigator.serviceWorker.ready;
  await rest;
  const named = Array.from(document.querySelectorAll('script[src], link[href]'), (one) =>
    one.getAttribute('src') ?? one.getAttribute('href') ?? '',
  );
  const fetched = performance.getEntriesByType('resource').map((one) => one.name);
  const parts = ['./', ...named, ...fetched.filter((name) => name.includes('/assets/'))];
  const wanted = new Set(parts.map((part) => new URL(part, location.href.split('#')[0]).href));
  const cache = await caches.open('weighwright-page-1');  // the worker's own name for it
  await cache.addAll([...wanted]);
  for (const kept of await cache.keys()) {
    if (!wanted.has(kept.url)) await cache.delete(kept);  // of an earlier version
  }
}

if (import.meta.env.PROD && 'serviceWorker' in navigator && window.isSecureContext) {
  keep_page().catch((error: unknown) => console.warn('the page is not kept on this phone', error));
}
