import { hypot } from '../elementary/power.js';

export interface RoomSize {
  readonly lengthM: number;
  readonly widthM: number;
  readonly heightM: number;
}

export interface RoomMode {
  readonly frequencyHz: number;
  /** Half waves along length, width and height. */
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  /** One, two or three of the numbers differ from zero. */
  readonly kind: 'axial' | 'tangential' | 'oblique';
}

const kinds = ['axial', 'tangential', 'oblique'] as const;

/**
 * Modes of a rectangular room with rigid walls up to `maxHz`, ascending:
 * f = (c/2)·√((nx/Lx)² + (ny/Ly)² + (nz/Lz)²) (Kuttruff, Room Acoustics, ch. 3).
 */
export function roomModes(room: RoomSize, maxHz: number, speedOfSoundMs: number): RoomMode[] {
  const { lengthM, widthM, heightM } = room;
  const most = (sizeM: number) => Math.floor((2 * maxHz * sizeM) / speedOfSoundMs);
  const modes: RoomMode[] = [];
  for (let nx = 0; nx <= most(lengthM); nx++) {
    for (let ny = 0; ny <= most(widthM); ny++) {
      for (let nz = 0; nz <= most(heightM); nz++) {
        const dimensions = Number(nx > 0) + Number(ny > 0) + Number(nz > 0);
        const kind = kinds[dimensions - 1];
        const frequencyHz = (speedOfSoundMs / 2) * hypot(nx / lengthM, ny / widthM, nz / heightM);
        if (kind !== undefined && frequencyHz <= maxHz) modes.push({ frequencyHz, nx, ny, nz, kind });
      }
    }
  }
  return modes.sort((a, b) => a.frequencyHz - b.frequencyHz);
}
