import preact from "@preact/preset-vite";
import { defineConfig } from "vite";
import { VitePWA } from "vite-plugin-pwa";
import { formerBuilds } from "./former-builds.ts";

/** Where `npm run dev` finds a running gateway. */
const gatewayUrl = process.env.LEEWARD_GATEWAY_URL ?? "http://127.0.0.1:8080";

const builds = formerBuilds();

export default defineConfig({
  // Relative, so that the built files work under any path a proxy puts them.
  base: "./",
  plugins: [
    preact(),
    builds.plugin,
    VitePWA({
      registerType: "autoUpdate",
      // The page registers it as a file of its own: no inline script, so a strict CSP holds.
      injectRegister: "script-defer",
      manifest: {
        name: "Leeward",
        short_name: "Leeward",
        description: "True shielding-gas flow and time left, at every station.",
        display: "standalone",
        start_url: "./",
        scope: "./",
        background_color: "#f4f2ed",
        theme_color: "#f4f2ed",
        icons: [
          { src: "icon-192.png", sizes: "192x192", type: "image/png" },
          { src: "icon-512.png", sizes: "512x512", type: "image/png" },
          { src: "icon-512.png", sizes: "512x512", type: "image/png", purpose: "maskable" },
          { src: "icon.svg", sizes: "any", type: "image/svg+xml" },
        ],
      },
      workbox: {
        // Messages of alarms; see the file.
        importScripts: ["push-worker.js"],
        globPatterns: ["**/*.{js,css,html,svg,png,woff2}"],
        // Nobody fetches what only pages of a former build still ask for.
        manifestTransforms: [
          (entries) => ({
            manifest: entries.filter(
              ({ url }) => !url.startsWith("assets/") || builds.isNew(url.slice("assets/".length)),
            ),
          }),
        ],
        navigateFallback: "index.html",
        navigateFallbackDenylist: [/\/api\//, /\/alarms\//, /\/(healthz|readyz|metrics)$/],
      },
    }),
  ],
  worker: { format: "es" },
  build: { target: "es2022", outDir: "dist", emptyOutDir: false },
  server: {
    proxy: { "/api": gatewayUrl },
  },
});
