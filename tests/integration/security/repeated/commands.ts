import { readdirSync } from 'node:fs';
import path from 'node:path';
import type { Actor } from '@/lib/platform/actor';
import type { RouteHandler } from '@/lib/platform/http';
import { BENCH } from './bench';
import { FINDS } from './finds';
import { KEEPING } from './keeping';
import type { Example, Examples } from './lab';
import { LAW } from './law';
import { PEOPLE } from './people';
import { QUEUE } from './queue';

export const EXAMPLES: Examples = { ...FINDS, ...LAW, ...QUEUE, ...BENCH, ...KEEPING, ...PEOPLE };

const app = path.resolve(import.meta.dirname, '../../../../app');

/** Every command of the route tree, as it lies on disk, by method and folder. */
export async function loadCommands(): Promise<Map<string, RouteHandler>> {
  const commands = new Map<string, RouteHandler>();
  const files = readdirSync(app, { recursive: true, encoding: 'utf8' });
  for (const file of files.filter((one) => /(^|\/)route\.tsx?$/.test(one)).sort()) {
    const loaded = (await import(path.join(app, file))) as Record<string, RouteHandler | undefined>;
    for (const method of ['POST', 'PUT', 'PATCH', 'DELETE'] as const) {
      const handler = loaded[method];
      if (handler !== undefined) commands.set(`${method} ${path.dirname(file)}`, handler);
    }
  }
  return commands;
}

/** Delivers an example as its person, whom the test's stand-in for the session then knows. */
export async function deliver(
  commands: ReadonlyMap<string, RouteHandler>,
  signedIn: { actor: Actor | null },
  { command, key, language }: { command: string; key: string; language?: string },
  { as, params = {}, body }: Example,
): Promise<{ status: number; body: Record<string, unknown> }> {
  const [method = '', folder = ''] = command.split(' ');
  const address = folder.replace(/\[(\w+)\]/g, (_, name: string) => params[name] ?? '');
  signedIn.actor = as;
  const handler = commands.get(command);
  if (handler === undefined) throw new Error(`There is no ${command}.`);
  const answer = await handler(
    new Request(`http://localhost/${address}`, {
      method,
      body: JSON.stringify(body),
      headers: {
        'content-type': 'application/json',
        'idempotency-key': key,
        ...(language === undefined ? {} : { 'accept-language': language }),
      },
    }),
    { params: Promise.resolve(params) },
  );
  return { status: answer.status, body: (await answer.json()) as Record<string, unknown> };
}
