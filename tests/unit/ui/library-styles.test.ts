import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';

const root = path.resolve(__dirname, '../../..');
const library = path.join(root, 'node_modules/@mantine/core');
const read = (...parts: string[]) => readFileSync(path.join(...parts), 'utf8');

/** What our own code imports from the library, by name; the notices' library brings one more. */
function namesInUse(): Set<string> {
  const names = new Set(['Notification']);
  for (const folder of ['app', 'components'])
    for (const file of readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' })) {
      if (!/\.tsx?$/.test(file)) continue;
      for (const [, inner = ''] of read(root, folder, file).matchAll(
        /import \{([^}]*)\} from '@mantine\/core'/g,
      ))
        for (const name of inner.split(',')) names.add(name.trim());
    }
  return names;
}

/** The style modules that components of these names load, as the library's own files name each other. */
function stylesOf(names: ReadonlySet<string>): Set<string> {
  const esm = path.join(library, 'esm');
  const waiting: string[] = [];
  for (const [, inner = '', from = ''] of read(esm, 'index.mjs').matchAll(
    /import \{([^}]*)\} from "([^"]+)"/g,
  ))
    if (inner.split(',').some((name) => names.has(name.trim().split(' as ').at(-1) ?? '')))
      waiting.push(path.join(esm, from));
  const seen = new Set<string>();
  for (let file = waiting.pop(); file !== undefined; file = waiting.pop()) {
    if (seen.has(file)) continue;
    seen.add(file);
    for (const [, from = ''] of read(file).matchAll(/from "(\.[^"]+)"/g))
      waiting.push(path.join(path.dirname(file), from));
  }
  return new Set(
    [...seen]
      .filter((file) => file.endsWith('.module.mjs'))
      .map((file) => path.basename(file, '.module.mjs')),
  );
}

test('each part of the library that is used brings its styles, and no other does', () => {
  const given = [
    ...read(root, 'components/ui/library-styles.ts').matchAll(/core\/styles\/([A-Z]\w+)\.layer\.css/g),
  ].map(([, name]) => name);
  const needed = stylesOf(namesInUse());
  expect(needed.size).toBeGreaterThan(20);
  expect(given.slice().sort()).toEqual([...needed].sort());
});

test('they stand in the order of the library’s whole sheet', () => {
  const whole = read(library, 'styles.layer.css');
  const places = [
    ...read(root, 'components/ui/library-styles.ts').matchAll(/core\/styles\/([A-Z]\w+)\.layer\.css/g),
  ].map(([, name]) => {
    const [, first] = /(\.m_[0-9a-f]+)/.exec(read(library, 'styles', `${name}.layer.css`)) ?? [];
    return whole.indexOf(first ?? 'none');
  });
  expect(places).toEqual(places.toSorted((a, b) => a - b));
  expect(places).not.toContain(-1);
});
