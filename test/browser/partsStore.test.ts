import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launchChromium } from './chromium.js';
import { bundled, PAGE_URL, pageWith } from './partsPage.js';
import type * as Parts from './partsStoreEntry.js';

declare global {
  var store: typeof Parts;
}

let browser: Browser;
let script: string;

beforeAll(async () => {
  script = await bundled('partsStoreEntry.ts', 'store');
  browser = await launchChromium();
});
afterAll(() => browser?.close());

async function withPage(work: (page: Page) => Promise<void>): Promise<void> {
  const page = await pageWith(browser, script);
  await work(page);
  await page.context().close();
}

/** What a fresh window makes of the project `id`. */
const loaded = (page: Page, id = 'one') =>
  page.evaluate(
    (id) =>
      store
        .openProjectStore()
        .loadProject(id)
        .then(
          ({ project, fallback }) => ({
            name: project.name,
            contents: project.files.map((f) => f.content),
            fallback,
          }),
          (error: Error) => ({ refused: error.message, error: error.name }),
        ),
    id,
  );

const rawKeys = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<string[]>((resolve) => {
        const open = indexedDB.open('nullwise');
        open.onsuccess = () => {
          const request = open.result.transaction('projects').objectStore('projects').getAllKeys();
          request.onsuccess = () => resolve(request.result.map((key) => String((key as string[])[0])));
        };
      }),
  );

/** Overwrites one record, as a broken disk or another program might. */
const damage = (page: Page, kind: string, value: unknown) =>
  page.evaluate(
    ([kind, value]) =>
      new Promise<void>((resolve) => {
        const open = indexedDB.open('nullwise');
        open.onsuccess = () => {
          const transaction = open.result.transaction('projects', 'readwrite');
          transaction.objectStore('projects').put(value, [kind, 'one'] as string[]);
          transaction.oncomplete = () => resolve();
        };
      }),
    [kind, value],
  );

describe('the projects in this browser', () => {
  test('come back after a reload, newest first, each with its own files', () =>
    withPage(async (page) => {
      await page.evaluate(async () => {
        const projects = store.openProjectStore();
        await projects.saveProject('one', store.sample('first', ['a', 'b']));
        await new Promise((resolve) => setTimeout(resolve, 5));
        await projects.saveProject('two', store.sample('<b>second</b>', ['c']));
      });
      await page.reload();
      const heads = await page.evaluate(() => store.openProjectStore().listProjects());
      expect(heads.map(({ id, name }) => [id, name])).toEqual([
        ['two', '<b>second</b>'],
        ['one', 'first'],
      ]);
      expect(await loaded(page)).toEqual({ name: 'first', contents: ['a', 'b'], fallback: undefined });
      await page.evaluate(() => store.openProjectStore().removeProject('one'));
      expect(await loaded(page)).toMatchObject({
        error: 'InputError',
        refused: expect.stringMatching(/no project with the id "one"/),
      });
      expect(await loaded(page, 'two')).toMatchObject({ contents: ['c'] });
      expect((await rawKeys(page)).sort()).toEqual(['body', 'content', 'head']);
    }));

  test('a save writes the content of a file once and clears away what no version needs', () =>
    withPage(async (page) => {
      const puts = await page.evaluate(async () => {
        let puts = 0;
        const put = IDBObjectStore.prototype.put;
        IDBObjectStore.prototype.put = function (value, key) {
          if ((key as string[])[0] === 'content') puts++;
          return put.call(this, value, key as string[]);
        };
        const projects = store.openProjectStore();
        const first = store.sample('first', ['a', 'b']);
        await projects.saveProject('one', first);
        await projects.saveProject('one', { ...first, name: 'renamed' });
        const fewer = { ...first, files: first.files.slice(0, 1) };
        await projects.saveProject('one', fewer);
        await projects.saveProject('one', { ...fewer, name: 'fewer' });
        return puts;
      });
      expect(puts).toBe(2);
      expect((await rawKeys(page)).filter((kind) => kind === 'content')).toHaveLength(1);
      expect(await loaded(page)).toMatchObject({ name: 'fewer', contents: ['a'] });
    }));

  test.each([
    ['a body that is no JSON', '{"schema'],
    ['a body that is no project', '{"schemaVersion": 1}'],
    [
      'a body whose file is lost',
      JSON.stringify({
        schemaVersion: 1,
        name: 'x',
        files: [{ name: 'a', role: 'position', encoding: 'text', content: 'gone' }],
        options: {},
        overrules: [],
      }),
    ],
  ])('%s gives way to the version before, which says so', (_, body) =>
    withPage(async (page) => {
      await page.evaluate(async () => {
        const projects = store.openProjectStore();
        await projects.saveProject('one', store.sample('before', ['a']));
        await projects.saveProject('one', store.sample('after', ['b']));
      });
      await damage(page, 'body', body);
      expect(await loaded(page)).toMatchObject({
        name: 'before',
        contents: ['a'],
        fallback: expect.stringMatching(/^the project "after"/),
      });
      await damage(page, 'previous', body);
      expect(await loaded(page)).toMatchObject({
        error: 'InputError',
        refused: expect.stringMatching(/^the project "after"/),
      });
    }),
  );

  test('two windows do not overwrite each other: the second is saved as a copy', () =>
    withPage(async (page) => {
      const saved = await page.evaluate(async () => {
        const here = store.openProjectStore();
        await here.saveProject('one', store.sample('first', ['a']));
        const there = store.openProjectStore();
        await there.loadProject('one');
        await there.saveProject('one', store.sample('there', ['b']));
        const copy = await here.saveProject('one', store.sample('here', ['c']));
        return {
          asCopy: copy.asCopy,
          name: copy.head.name,
          copied: (await here.loadProject(copy.head.id)).project.files[0]?.content,
        };
      });
      expect(saved).toEqual({ asCopy: true, name: 'here (from another window)', copied: 'c' });
      expect(await loaded(page)).toMatchObject({ name: 'there', contents: ['b'] });
    }));

  test('a transaction that fails half-way writes nothing and is told in words', () =>
    withPage(async (page) => {
      const message = await page.evaluate(async () => {
        const projects = store.openProjectStore();
        await projects.saveProject('one', store.sample('first', ['a']));
        const put = IDBObjectStore.prototype.put;
        IDBObjectStore.prototype.put = function (value, key) {
          if ((key as string[])[0] === 'body') throw new DOMException('full', 'QuotaExceededError');
          return put.call(this, value, key as string[]);
        };
        const failure = await projects
          .saveProject('one', store.sample('second', ['b']))
          .catch((error: Error) => error);
        IDBObjectStore.prototype.put = put;
        return `${(failure as Error).name}: ${(failure as Error).message}`;
      });
      expect(message).toBe(
        'StorageProblem: The browser gives this page no more room for projects: remove some that you no longer need. Save the project as a file to keep it.',
      );
      expect(await loaded(page)).toMatchObject({ name: 'first', contents: ['a'] });
      expect((await rawKeys(page)).filter((kind) => kind === 'content')).toHaveLength(1);
    }));

  test('where the browser keeps nothing it says so, and says what to do', () =>
    withPage(async (page) => {
      const message = await page.evaluate(async () => {
        IDBFactory.prototype.open = () => {
          throw new DOMException('denied', 'SecurityError');
        };
        return store
          .openProjectStore()
          .listProjects()
          .catch((error: Error) => `${error.name}: ${error.message}`);
      });
      expect(message).toBe(
        'StorageProblem: This browser window keeps nothing: it is private, or its settings forbid pages to store data. Save the project as a file to keep it.',
      );
    }));
});

describe('autosave', () => {
  test(
    'a reload right after a change loses nothing, be the project new, saved before, or just being saved',
    () =>
      withPage(async (page) => {
        for (const begin of ['new', 'saved', 'saving'] as const) {
          const id = `reload-${begin}`;
          await page.evaluate(
            async ([id, begin]) => {
              const projects = store.openProjectStore();
              await projects.listProjects();
              if (begin !== 'new') await projects.saveProject(id, store.sample('before', ['a']));
              const saving = store.autosave(projects, id);
              saving.changed(store.sample('change', ['x'.repeat(500_000)]));
              if (begin === 'saving') {
                saving.flush();
                saving.changed(store.sample('change', ['y'.repeat(500_000)]));
              }
              Object.assign(window, { before: true });
              location.reload();
            },
            [id, begin] as const,
          );
          await page.waitForFunction(
            () => !('before' in window) && 'store' in window && document.readyState === 'complete',
          );
          const found = (await loaded(page, id)) as { name: string; contents: string[] };
          expect([begin, found.name, found.contents?.[0]?.[0]]).toEqual([
            begin,
            'change',
            begin === 'saving' ? 'y' : 'x',
          ]);
        }
      }),
    120_000,
  );

  test('a crash of the page leaves a project whole: as it was saved last, or as a save under way had it', () =>
    withPage(async (first) => {
      const context = first.context();
      let page = first;
      const names = ['0'];
      for (let i = 1; i <= 4; i++) {
        await page.evaluate(
          async ([before, name, i]) => {
            const projects = store.openProjectStore();
            if (before === '0') await projects.saveProject('one', store.sample(before, [before]));
            else await projects.loadProject('one');
            projects.saveProject('one', store.sample(name, [name, 'x'.repeat(2_000_000)]));
            await new Promise((resolve) => setTimeout(resolve, i * 4));
          },
          [names.at(-1)!, String(i), i] as const,
        );
        const session = await context.newCDPSession(page);
        const crashed = page.waitForEvent('crash');
        session.send('Page.crash').catch(() => {});
        await crashed;
        const next = await context.newPage();
        await next.goto(PAGE_URL);
        const found = (await loaded(next)) as { name: string; contents: string[]; fallback?: string };
        expect([names.at(-1), String(i)]).toContain(found.name);
        expect(found.contents[0]).toBe(found.name);
        expect(found.fallback).toBeUndefined();
        names.push(found.name);
        page = next;
      }
    }));

  test.each([
    ['short', 1],
    ['too long for the synchronous storage', 6_000_000],
  ])('what was written in haste, %s, is taken up, saved properly and then gone', (_, length) =>
    withPage(async (page) => {
      const found = await page.evaluate(async (length) => {
        const projects = store.openProjectStore();
        await projects.saveProject('one', store.sample('first', ['a']));
        await projects.saveLastWords('one', store.sample('last words', ['b'.repeat(length)]));
        const again = store.openProjectStore();
        const { project } = await again.loadProject('one');
        await again.saveProject('one', { ...project, name: `${project.name}, saved` });
        const saved = (await store.openProjectStore().loadProject('one')).project;
        return {
          names: [project.name, saved.name],
          lengths: [project, saved].map(({ files }) => files[0]?.content.length),
          left: Object.keys(localStorage),
        };
      }, length);
      expect(found).toEqual({
        names: ['last words', 'last words, saved'],
        lengths: [length, length],
        left: [],
      });
      expect(await rawKeys(page)).not.toContain('last');
    }),
  );

  test('a project that has only last words stands in the list until it is removed', () =>
    withPage(async (page) => {
      const lists = await page.evaluate(async () => {
        await store.openProjectStore().saveLastWords('one', store.sample('last words', ['a']));
        const again = store.openProjectStore();
        const before = await again.listProjects();
        await again.removeProject('one');
        return [before, await again.listProjects()].map((heads) => heads.map(({ name }) => name));
      });
      expect(lists).toEqual([['last words'], []]);
    }));

  test('what was written in haste onto a version that another window has replaced is not taken up', () =>
    withPage(async (page) => {
      await page.evaluate(async () => {
        const projects = store.openProjectStore();
        await projects.saveProject('one', store.sample('saved', ['a']));
        const there = store.openProjectStore();
        await there.loadProject('one');
        await there.saveProject('one', store.sample('there', ['b']));
        await projects.saveLastWords('one', store.sample('stale', ['c']));
      });
      expect(await loaded(page)).toMatchObject({ name: 'there', contents: ['b'] });
    }));
});
