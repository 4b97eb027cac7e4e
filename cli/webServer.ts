import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { WebFile } from './webFiles.js';

/** Only this machine can reach it. */
export const ADDRESS = '127.0.0.1';

/**
 * What the app may do. The plotting library puts an empty style element into the page and fills it rule by rule; the
 * hash is that of the empty text, so that no style with words in it is let in. It needs no `unsafe-eval`, since the app
 * draws none of the kinds of plots that are compiled at run time, and `data:` and `blob:` images for its pictures.
 */
export const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self' 'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='",
  "img-src 'self' data: blob:",
  "media-src 'self' blob:",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** A worker goes by the policy it comes with: the one that designs may compile its sums to WebAssembly. */
export const WORKER_POLICY = POLICY.replace("script-src 'self'", "script-src 'self' 'wasm-unsafe-eval'");
const WORKER = /^\/assets\/worker-[^/]*\.js$/;

const HEADERS = {
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(), microphone=(), geolocation=()',
  'Cache-Control': 'no-cache',
} as const;

/** A server of the app's files and of nothing else. */
export function webServer(files: ReadonlyMap<string, WebFile>): Server {
  return createServer((request, response) => answer(request, response, files));
}

function answer(
  request: IncomingMessage,
  response: ServerResponse,
  files: ReadonlyMap<string, WebFile>,
): void {
  for (const [name, value] of Object.entries(HEADERS)) response.setHeader(name, value);
  const path = (request.url ?? '').replace(/[?#].*$/s, '');
  response.setHeader('Content-Security-Policy', WORKER.test(path) ? WORKER_POLICY : POLICY);
  // A page elsewhere could have its name point to this machine and read what is served here; its name gives it away.
  if (!isOurs(request.headers.host, request.socket.localPort)) {
    refuse(response, 403, 'This server answers only to 127.0.0.1 and localhost.');
    return;
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD');
    refuse(response, 405, 'There is nothing to be changed here.');
    return;
  }
  const file = files.get(path);
  if (!file) {
    refuse(response, 404, 'There is no such file.');
    return;
  }
  response.setHeader('ETag', file.tag);
  if (request.headers['if-none-match'] === file.tag) {
    response.writeHead(304).end();
    return;
  }
  const accepted = String(request.headers['accept-encoding'] ?? '');
  const packed = /\bgzip\b/.test(accepted) ? file.packed() : undefined;
  const body = packed ?? file.bytes;
  response.setHeader('Vary', 'Accept-Encoding');
  response.writeHead(200, {
    'Content-Type': file.type,
    'Content-Length': body.length,
    ...(packed && { 'Content-Encoding': 'gzip' }),
  });
  response.end(request.method === 'HEAD' ? undefined : body);
}

function isOurs(host: string | undefined, port: number | undefined): boolean {
  return host === `${ADDRESS}:${port}` || host === `localhost:${port}`;
}

function refuse(response: ServerResponse, status: number, words: string): void {
  response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8' });
  response.end(`${words}\n`);
}
