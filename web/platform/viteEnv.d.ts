/// <reference types="vite/client" />

declare module 'virtual:demo-design' {
  const design: import('../../src/schema/design.js').Design;
  export default design;
}

/** Differs from build to build. */
declare const __BUILD__: string;
