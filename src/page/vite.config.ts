/**
 * Builds the page into dist/page, from where the service hands it out at `/`. Nothing is inlined,
 * since the service allows scripts, styles and pictures from itself only (default-src 'self').
 */

import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";

export default defineConfig({
  root: "src/page",
  base: "/",
  plugins: [react()],
  build: {
    outDir: "../../dist/page",
    emptyOutDir: true,
    assetsDir: "assets",
    assetsInlineLimit: 0,
    // The licences of what is built in go with it, as they ask for.
    license: { fileName: "licences.md" },
    // Only what makes PDFs is larger than usual, and it is loaded when somebody wants one.
    chunkSizeWarningLimit: 1100,
    modulePreload: { polyfill: false },
    target: "es2022",
  },
});
