import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { expect, it } from 'vitest';
import { projectRoot } from '@/lib/ops/project';

/** Attributes that are read by people, in every component of ours and of the library. */
const SHOWN =
  /^(label|title|head|description|placeholder|alt|aria-label|what|term|lede|help|hint|message|legend|text|heading|caption|empty|note)$/;

const pages = ['app', 'components'].flatMap((folder) =>
  readdirSync(path.join(projectRoot, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.tsx'))
    .map((file) => path.join(folder, file)),
);

/** Words that stand in a page as they are, instead of being said in the reader's language. */
function unsaidIn(file: string): string[] {
  const source = ts.createSourceFile(
    file,
    readFileSync(path.join(projectRoot, file), 'utf8'),
    ts.ScriptTarget.Latest,
    true,
    ts.ScriptKind.TSX,
  );
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const said = wordsOf(node);
    if (said !== null && /[A-Za-z]{2}/.test(said)) found.push(`${file}: ${said.trim()}`);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

function wordsOf(node: ts.Node): string | null {
  if (ts.isJsxText(node)) return node.text;
  if (!ts.isJsxAttribute(node) || !SHOWN.test(node.name.getText())) return null;
  return node.initializer !== undefined && ts.isStringLiteral(node.initializer)
    ? node.initializer.text
    : null;
}

it('every word of a page is said, so that it can be translated', { timeout: 60_000 }, () => {
  // The name of an interface, and an example of what is sent.
  const allowed = /: (API|POST \/your\/address[\s\S]*)$/;
  expect(pages.flatMap(unsaidIn).filter((one) => !allowed.test(one))).toEqual([]);
});
