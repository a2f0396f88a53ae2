import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';

const root = path.resolve(__dirname, '../../..');
const read = (file: string) => readFileSync(path.join(root, file), 'utf8');

/** The font faces of a style sheet by the name of their file: what is said of each beside its family. */
function facesIn(css: string): Map<string, Record<string, string>> {
  const faces = new Map<string, Record<string, string>>();
  for (const [, body = ''] of css.matchAll(/@font-face\s*\{([^}]*)\}/g)) {
    const said = Object.fromEntries(
      body
        .split(';')
        .filter((line) => line.includes(':'))
        .map((line) => [
          line.slice(0, line.indexOf(':')).trim(),
          line.slice(line.indexOf(':') + 1).replace(/\s+/g, ''),
        ]),
    );
    faces.set(/[\w-]+\.woff2/.exec(said.src ?? '')?.[0] ?? '', said);
  }
  return faces;
}

const letters = read('components/ui/letters.css');

test('the Latin letters are what the packages say of them, under another family', () => {
  const packages = new Map(
    ['source-sans-3', 'source-serif-4']
      .flatMap((name) => [`${name}/wght.css`, `${name}/wght-italic.css`])
      .flatMap((file) => [...facesIn(read(`node_modules/@fontsource-variable/${file}`))]),
  );
  const ours = facesIn(letters);
  expect([...ours.keys()].sort()).toEqual(
    [...packages.keys()].filter((file) => /-latin-wght-/.test(file)).sort(),
  );
  for (const [file, { 'font-family': family, src, ...said }] of ours) {
    const { 'font-family': theirs, src: _, ...their } = packages.get(file) ?? {};
    expect(said, file).toEqual(their);
    expect(family).not.toBe(theirs);
  }
});

test('each list of fonts begins with Latin letters and goes on with all scripts of the same letters', () => {
  const lists = [
    ...read('app/globals.css').matchAll(/--f-(?:sans|serif): "([^"]+) Latin", "([^"]+) Variable"/g),
  ];
  expect(lists).toHaveLength(2);
  for (const [, latin, all] of lists) {
    expect(latin).toBe(all);
    expect(letters).toContain(`font-family: "${latin} Latin"`);
  }
});
