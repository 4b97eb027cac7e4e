/** Path of a Chromium: `NULLWISE_CHROMIUM`, else one on the PATH, else the one the test library installed. */
export function findChromium(): string | undefined;

/** Path of a Chromium, installing one where none is found; throws an Error that says what to install. */
export function ensureChromium(): string;
