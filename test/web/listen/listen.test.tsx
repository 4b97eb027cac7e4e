import { renderToString } from 'preact-render-to-string';
import { expect, test } from 'vitest';
import { Listen } from '../../../web/listen/Listen.js';
import { SoundChoice } from '../../../web/listen/SoundChoice.js';

const boost = { type: 'peaking', frequencyHz: 62, gainDb: 4, q: 1.5 } as const;

test('it begins silent, with the filters, 30 dB down and with cautions first', () => {
  const html = renderToString(<Listen filters={[boost]} designRateHz={48_000} />);
  expect(html).toMatch(/Start quietly.*The filters raise 62 Hz by 4.0 dB.*cone travel.*Play<\/button>/s);
  expect(html).toMatch(/type="range"[^>]*value="-30"[^>]*aria-valuetext="−30 dB"/);
  expect(html).toMatch(/value="after" checked/);
  expect(html).toContain('Silent. Play starts pink noise with the filters.');
});

test('it speaks of cone travel only where the bass is raised', () => {
  const html = renderToString(<Listen filters={[{ ...boost, gainDb: -4 }]} designRateHz={48_000} />);
  expect(html).toContain('Start quietly');
  expect(html).not.toContain('cone travel');
});

test('the name of a sound file is text', () => {
  const html = renderToString(
    <SoundChoice fileName={'<img src=x onerror=alert(1)>\u202e.wav'} onChoose={() => {}} />,
  );
  expect(html).toContain('&lt;img src=x onerror=alert(1)> .wav');
  expect(html).not.toContain('<img');
});
