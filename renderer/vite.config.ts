import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

/** The page alone, for any shell that serves it: relative paths, and no file inlined as data so that a strict policy holds. */
export default defineConfig({
  root: import.meta.dirname,
  base: './',
  plugins: [react()],
  build: {
    outDir: '../out/renderer',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 1500,
  },
})
