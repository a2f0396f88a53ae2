import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { LANGUAGES } from '@/lib/platform/words/languages';
import { collectTexts } from './collect-words';
import { projectRoot } from './project';

/**
 * `npm run words`: brings each language's catalogue in line with the source. New texts come in with an empty
 * translation, to be filled by a person (a test fails until they are); texts that nothing says any more leave.
 */
async function main(): Promise<void> {
  const texts = collectTexts(projectRoot).map(({ text }) => text);
  for (const language of Object.keys(LANGUAGES).filter((one) => one !== 'en')) {
    const file = path.join(projectRoot, `lib/platform/words/${language}.json`);
    const before = JSON.parse(await readFile(file, 'utf8')) as Record<string, string>;
    const after = Object.fromEntries(texts.sort().map((text) => [text, before[text] ?? '']));
    await writeFile(file, `${JSON.stringify(after, null, 2)}\n`);
    const empty = Object.values(after).filter((text) => text === '').length;
    const gone = Object.keys(before).filter((text) => !Object.hasOwn(after, text)).length;
    console.log(
      `${language}: ${texts.length} texts, ${empty} without a translation, ${gone} no longer said.`,
    );
  }
}

void main();
