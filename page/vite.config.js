import { writeFileSync } from 'node:fs';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

/** Names the packages of which something is in the bundle, in bundled-packages.json: their licences
 *  must be told (THIRD-PARTY.txt, tests/house/third_party_test.py). */
function bundled_packages() {
  return {
    name: 'bundled-packages',
    writeBundle(_options, bundle) {
      const names = new Set();
      for (const part of Object.values(bundle)) {
        for (const id of Object.keys(part.modules ?? {})) {
          const found = [...id.matchAll(/node_modules\/((?:@[^/]+\/)?[^/]+)\//g)].at(-1);
          if (found) names.add(found[1]);
          else if (id.includes('vite/')) names.add('vite');  // a helper of its own
        }
      }
      writeFileSync('bundled-packages.json', JSON.stringify([...names].sort()) + '\n');
    },
  };
}

// One script, one style sheet: everything of the first view comes in three requests from 'self'.
// Nothing is inlined, for the page runs under a Content-Security-Policy that forbids it.
export default defineConfig({
  plugins: [svelte(), bundled_packages()],
  base: './',
  build: {
    target: 'es2022',
    assetsInlineLimit: 0,
    cssCodeSplit: false,
    modulePreload: { polyfill: false },
    sourcemap: false,
    rollupOptions: {
      output: {
        entryFileNames: 'assets/[name]-[hash].js',
        chunkFileNames: 'assets/[name]-[hash].js',
        assetFileNames: 'assets/[name]-[hash][extname]',
      },
    },
  },
  // While the page is worked on: `npm run dev` beside a `weighwright serve JOB`.
  server: { proxy: { '/api': process.env.WEIGHWRIGHT_API ?? 'http://127.0.0.1:8470' } },
});
