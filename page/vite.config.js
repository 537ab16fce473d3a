import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

// One script, one style sheet: everything of the first view comes in three requests from 'self'.
// Nothing is inlined, for the page runs under a Content-Security-Policy that forbids it.
export default defineConfig({
  plugins: [svelte()],
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
