import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { CODE_NAMES, isPhrase, SHOWN_NAMES, wordOf } from '@/lib/platform/words/say';

const ROOTS = ['app', 'components', 'lib'];
const LEFT_OUT = /^lib\/(ops|platform\/generated)\//;
/** Functions whose first argument is a text of the catalogues. */
const SAID = new Set(['say', 'sayWith', 'translate', 'titled', 'givenDay']);
/** What `sayWord` is given. */
const CODE = /^[a-z]+(-[a-z0-9]+)*$/;

export type CollectedText = { text: string; file: string };

/**
 * Every text that the screens may ask of a catalogue: what `say` and its like are given, the plural pairs of `countOf`,
 * the texts of tables given to `phrases`, the messages of schemas, and the words of their lists as `sayWord` writes them.
 * @param root the project's folder
 */
export function collectTexts(root: string): CollectedText[] {
  const found = new Map<string, string>();
  for (const file of ROOTS.flatMap((folder) => sourcesIn(root, folder))) {
    const source = ts.createSourceFile(
      file,
      readFileSync(path.join(root, file), 'utf8'),
      ts.ScriptTarget.Latest,
      true,
      file.endsWith('.tsx') ? ts.ScriptKind.TSX : ts.ScriptKind.TS,
    );
    for (const text of textsOf(source)) if (!found.has(text)) found.set(text, file);
  }
  return [...found].map(([text, file]) => ({ text, file }));
}

function sourcesIn(root: string, folder: string): string[] {
  return readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name) && !entry.name.endsWith('.d.ts'))
    .map((entry) => path.relative(root, path.join(entry.parentPath, entry.name)).replaceAll(path.sep, '/'))
    .filter((file) => !LEFT_OUT.test(file))
    .sort();
}

const isText = (node: ts.Node): node is ts.StringLiteral | ts.NoSubstitutionTemplateLiteral =>
  ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node);

const calleeOf = (call: ts.CallExpression): string =>
  ts.isPropertyAccessExpression(call.expression) ? call.expression.name.text : call.expression.getText();

function* textsOf(source: ts.Node): Generator<string> {
  for (const node of descend(source)) {
    if (ts.isAsExpression(node)) yield* listedWords(node);
    if (!ts.isCallExpression(node)) continue;
    const callee = calleeOf(node);
    const [first, ...others] = node.arguments;
    if (first === undefined) continue;
    if (SAID.has(callee) && !ts.isPropertyAccessExpression(node.expression)) yield* literalsIn(first);
    else if (callee === 'countOf') yield* countedIn(others);
    else if (callee === 'phrases') yield* tableTexts(declared(first), namesIn(others[0]));
    else if (callee === 'enum') yield* [...descend(first)].filter(isText).map(({ text }) => wordOf(text));
    else yield* messagesOf(node);
  }
}

function* descend(node: ts.Node): Generator<ts.Node> {
  yield node;
  for (const child of node.getChildren()) yield* descend(child);
}

/** `'a'`, or both of `when ? 'a' : 'b'`. */
function* literalsIn(node: ts.Node): Generator<string> {
  if (isText(node)) yield node.text;
  else if (ts.isConditionalExpression(node)) {
    yield* literalsIn(node.whenTrue);
    yield* literalsIn(node.whenFalse);
  } else if (ts.isParenthesizedExpression(node)) yield* literalsIn(node.expression);
}

function* countedIn([one, many]: ts.Expression[]): Generator<string> {
  if (one === undefined) return;
  const ones = [...literalsIn(one)];
  yield* ones.map((text) => `{n} ${text}`);
  yield* (many === undefined ? ones.map((text) => `${text}s`) : [...literalsIn(many)]).map(
    (text) => `{n} ${text}`,
  );
}

/** A table that stands under a name of its own in the same file, else the table itself. */
function declared(node: ts.Expression): ts.Node {
  if (!ts.isIdentifier(node)) return node;
  const found = [...descend(node.getSourceFile())].find(
    (one): one is ts.VariableDeclaration => ts.isVariableDeclaration(one) && one.name.getText() === node.text,
  );
  return found?.initializer ?? node;
}

/** `['name']`, the names under which a table shows small words. */
const namesIn = (node: ts.Node | undefined): string[] =>
  node === undefined ? [] : [...descend(node)].filter(isText).map(({ text }) => text);

function* tableTexts(node: ts.Node, also: readonly string[]): Generator<string> {
  if (isText(node)) {
    if (isPhrase(node.text)) yield node.text;
    return;
  }
  if (ts.isPropertyAssignment(node)) {
    const name = node.name.getText().replace(/['"]/g, '');
    if ((SHOWN_NAMES.has(name) || also.includes(name)) && isText(node.initializer))
      yield node.initializer.text;
    else if (!CODE_NAMES.has(name)) yield* tableTexts(node.initializer, also);
    return;
  }
  if (ts.isFunctionLike(node)) return;
  // A call's lists are codes and ways to say it aloud; a choice of the bench shows its label only.
  if (ts.isCallExpression(node)) {
    const shown = calleeOf(node) === 'choice' ? node.arguments.slice(1, 2) : node.arguments;
    for (const argument of shown)
      if (!ts.isArrayLiteralExpression(argument)) yield* tableTexts(argument, also);
    return;
  }
  for (const child of node.getChildren()) yield* tableTexts(child, also);
}

/** The codes of `['in-freezer', 'queued'] as const`, as words. */
function* listedWords({ expression, type }: ts.AsExpression): Generator<string> {
  if (!ts.isArrayLiteralExpression(expression) || type.getText() !== 'const') return;
  const codes = expression.elements.filter(isText).map(({ text }) => text);
  if (
    codes.length > 0 &&
    codes.length === expression.elements.length &&
    codes.every((code) => CODE.test(code))
  )
    yield* codes.map(wordOf);
}

/** What a schema says when it refuses: `z.string().min(1, 'Say why.')`. */
function* messagesOf(call: ts.CallExpression): Generator<string> {
  if (
    !ts.isPropertyAccessExpression(call.expression) ||
    !/^z\b|\bz\.|Schema\b/.test(call.expression.getText())
  )
    return;
  for (const argument of call.arguments) {
    if (isText(argument) && /\s/.test(argument.text)) yield argument.text;
    if (!ts.isObjectLiteralExpression(argument)) continue;
    for (const property of argument.properties)
      if (
        ts.isPropertyAssignment(property) &&
        /^(message|error)$/.test(property.name.getText()) &&
        isText(property.initializer)
      )
        yield property.initializer.text;
  }
}
