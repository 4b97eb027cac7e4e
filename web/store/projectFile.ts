import type { FileRole, ProjectFile } from './project.js';

const CHUNK = 0x8000;

/** A file as the user gave it; bytes that are no UTF-8 text, and all WAV files, are kept in base64. */
export function projectFile(name: string, role: FileRole, bytes: Uint8Array): ProjectFile {
  const text = isWav(bytes) ? undefined : textOf(bytes);
  return text === undefined
    ? { name, role, encoding: 'base64', content: toBase64(bytes) }
    : { name, role, encoding: 'text', content: text };
}

/** The bytes of a project's file, as they were given. */
export function fileBytes({ encoding, content }: ProjectFile): Uint8Array {
  if (encoding === 'text') return new TextEncoder().encode(content);
  return Uint8Array.from(atob(content), (character) => character.charCodeAt(0));
}

function isWav(bytes: Uint8Array): boolean {
  return String.fromCharCode(...bytes.subarray(0, 4)) === 'RIFF';
}

function textOf(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += CHUNK) text += String.fromCharCode(...bytes.subarray(i, i + CHUNK));
  return btoa(text);
}
