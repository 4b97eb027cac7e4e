import { OfflineAudioContext } from 'node-web-audio-api';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { createPlayer, type PlayerState } from '../../../web/listen/player.js';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** A context that makes no sound but is one in every other way. */
function silentContext() {
  const deeds: string[] = [];
  const context = Object.assign(new OfflineAudioContext(1, 128, 44_100), {
    resume: async () => void deeds.push('resume'),
    suspend: async () => void deeds.push('suspend'),
    close: async () => void deeds.push('close'),
  });
  return { context: context as unknown as AudioContext, deeds };
}

test('the audio is opened with the first play, rests after a stop and is let go at the end', async () => {
  const { context, deeds } = silentContext();
  const states: PlayerState[] = [];
  let opened = 0;
  const player = createPlayer(
    [],
    (state) => states.push(state),
    () => {
      opened++;
      return context;
    },
  );
  player.choose('before');
  player.setVolumeDb(-40);
  player.stop();
  expect([opened, states]).toEqual([0, []]);
  await player.play();
  expect(states.at(-1)).toEqual({ playing: true, sampleRateHz: 44_100 });
  player.stop();
  expect(states.at(-1)).toEqual({ playing: false, sampleRateHz: 44_100 });
  expect(deeds).toEqual(['resume']);
  await vi.advanceTimersByTimeAsync(500);
  expect(deeds).toEqual(['resume', 'suspend']);
  await player.play();
  player.close();
  await vi.advanceTimersByTimeAsync(500);
  expect([opened, deeds.at(-1)]).toEqual([1, 'close']);
});

test('playing again before the rest keeps the audio awake', async () => {
  const { context, deeds } = silentContext();
  const player = createPlayer(
    [],
    () => {},
    () => context,
  );
  await player.play();
  player.stop();
  await player.play();
  await vi.advanceTimersByTimeAsync(500);
  expect(deeds).toEqual(['resume', 'resume']);
});

test('a browser without audio is told in words', async () => {
  const player = createPlayer(
    [],
    () => {},
    () => {
      throw new DOMException('no device', 'NotSupportedError');
    },
  );
  await expect(player.play()).rejects.toThrow(/lets the page make no sound/);
});
