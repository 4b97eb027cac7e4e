import type { PlacedSetup, PlacedSurface } from './placeSetup.js';
import type { Axis } from './surfaceSides.js';

/**
 * Where the sound meets a plane on its way to the microphone: there the line from the mirror image to the microphone
 * crosses it, so every other coordinate lies between speaker and microphone in the ratio of their distances.
 */
export function reflectionPoint({ axes }: PlacedSetup, { axis, atM }: PlacedSurface): Record<Axis, number> {
  const speakerM = Math.abs(axes[axis].speakerM - atM);
  const microphoneM = Math.abs(axes[axis].microphoneM - atM);
  const share = speakerM + microphoneM > 0 ? speakerM / (speakerM + microphoneM) : 0.5;
  const along = (other: Axis) =>
    axes[other].speakerM + share * (axes[other].microphoneM - axes[other].speakerM);
  return { x: along('x'), y: along('y'), z: along('z'), [axis]: atM };
}
