import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { projectRoot } from './project';

/** Where the API's own description finds all routes (git-ignored). */
const file = 'app/api/openapi.json/routes.generated.ts';

/** Folders that describe themselves elsewhere: this description, and sign-in's own protocol. */
const leftOut = new Set(['api/openapi.json', 'api/auth/[...nextauth]']);

/** Lists every route module under app/api, so that one of them can describe them all. */
export function writeRouteList(): void {
  const folders = readdirSync(path.join(projectRoot, 'app', 'api'), { recursive: true, encoding: 'utf8' })
    .filter((name) => path.basename(name) === 'route.ts')
    .map((name) => path.posix.join('api', path.dirname(name).split(path.sep).join('/')))
    .filter((folder) => !leftOut.has(folder))
    .sort();
  const text = [
    "import type { RouteModule } from '@/lib/exchange/openapi';",
    ...folders.map((folder, index) => `import * as route${index} from '@/app/${folder}/route';`),
    '',
    'export const routeModules: readonly RouteModule[] = [',
    ...folders.map((folder, index) => `  { folder: '${folder}', handlers: route${index} },`),
    '];',
    '',
  ].join('\n');
  const target = path.join(projectRoot, file);
  if (!existsSync(target) || readFileSync(target, 'utf8') !== text) writeFileSync(target, text);
}
