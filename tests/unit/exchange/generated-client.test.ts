import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import openapiTS, { astToString } from 'openapi-typescript';
import ts from 'typescript';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { routeModules } from '@/app/api/openapi.json/routes.generated';
import { describeApi } from '@/lib/exchange/openapi';

/** What somebody would write against the generated types: an address, its query, its body and its answer. */
const CLIENT = `
import type { paths } from './api';

type Answer<P extends keyof paths, M extends keyof paths[P]> =
  paths[P][M] extends { responses: { 200: { content: { 'application/json': infer T } } } } ? T : never;
type Body<P extends keyof paths, M extends keyof paths[P]> =
  paths[P][M] extends { requestBody: { content: { 'application/json': infer T } } } ? T : never;

export async function listTokens(base: string, token: string): Promise<Answer<'/api/exchange/tokens', 'get'>> {
  const answer = await fetch(base + '/api/exchange/tokens', { headers: { authorization: 'Bearer ' + token } });
  return (await answer.json()) as Answer<'/api/exchange/tokens', 'get'>;
}
export const first = async () => (await listTokens('', '')).rows[0]?.name.toUpperCase();
export const request: Body<'/api/exchange/tokens', 'post'> = WANTED;
`;

const GOOD_REQUEST = `{ name: 'Nightly copy', personId: '0190a0c0-0000-7000-8000-000000000001',
  scopes: ['catalogue.see'], expiresOn: '2027-01-31' }`;

const folder = mkdtempSync(join(tmpdir(), 'client-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

let types: string;
beforeAll(async () => {
  const document = describeApi(routeModules, 'http://localhost');
  types = astToString(await openapiTS(JSON.stringify(document)));
}, 120_000);

/** What the strict compiler says of a client beside the generated types. */
function compile(client: string): string[] {
  writeFileSync(join(folder, 'api.ts'), types);
  writeFileSync(join(folder, 'client.ts'), client);
  const program = ts.createProgram([join(folder, 'client.ts')], {
    strict: true,
    noEmit: true,
    target: ts.ScriptTarget.ES2022,
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    types: [],
  });
  return ts
    .getPreEmitDiagnostics(program)
    .map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, '\n'));
}

describe('a client generated from the description of the API', () => {
  it('compiles, and knows every address', () => {
    expect(compile(CLIENT.replace('WANTED', GOOD_REQUEST))).toEqual([]);
    for (const path of Object.keys(describeApi(routeModules, '').paths ?? {}))
      expect(types).toContain(`"${path}"`);
  }, 120_000);

  it('does not compile where it asks for what the API does not take', () => {
    expect(compile(CLIENT.replace('WANTED', '{ name: 5 }')).join('\n')).toContain("'number'");
  }, 120_000);
});
