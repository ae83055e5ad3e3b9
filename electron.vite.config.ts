import { defineConfig } from 'electron-vite'
import renderer from './renderer/vite.config.ts'

/** Packages in `dependencies` stay outside the bundles; everything else is bundled. */
export default defineConfig({
  main: {
    build: {
      outDir: 'out/main',
      rolldownOptions: { input: { index: 'main/electron/index.ts' } },
    },
  },
  // A sandboxed preload must be CommonJS.
  preload: {
    build: {
      outDir: 'out/preload',
      rolldownOptions: { input: { preload: 'main/electron/preload.ts' }, output: { format: 'cjs', entryFileNames: '[name].cjs' } },
    },
  },
  renderer: {
    ...renderer,
    root: 'renderer',
    build: { ...renderer.build, outDir: 'out/renderer', minify: true, rolldownOptions: { input: 'renderer/index.html' } },
  },
})
