import type { MeasuredLength, Setup } from '../../src/acoustics/setup.js';
import { INCH_M } from '../../src/units/unitTables.js';

/** A set-up as the text of its file, in the unit that its writer thinks in. */
export function setupText(setup: Setup): string {
  const { lengthUnit, room } = setup;
  const unitM = lengthUnit === 'in' ? INCH_M : 0.01;
  const plain = (m: number) => `${Number((m / unitM).toFixed(4))} ${lengthUnit}`;
  const measured = ({ m, toleranceM }: MeasuredLength) =>
    toleranceM > 0 ? `${plain(m)} ± ${plain(toleranceM)}` : plain(m);
  return `${JSON.stringify(
    {
      temperature: `${Number(setup.temperatureC.toFixed(3))} degC`,
      microphoneDistance: measured(setup.microphoneDistance),
      ...(setup.baffleWidthM !== undefined && { baffleWidth: plain(setup.baffleWidthM) }),
      surfaces: setup.surfaces.map(({ name, speakerDistance, microphoneDistance }) => ({
        name,
        speakerDistance: measured(speakerDistance),
        microphoneDistance: measured(microphoneDistance),
      })),
      ...(room && {
        room: { length: plain(room.lengthM), width: plain(room.widthM), height: plain(room.heightM) },
      }),
    },
    null,
    2,
  )}\n`;
}
