import type { RouteDescription } from '@/lib/platform/http';
import { isLanguage } from '@/lib/platform/words/languages';
import { wordsScript } from '@/lib/platform/words/request-language';

const KEPT = 'public, max-age=31536000, immutable';
type Params = { params: Promise<{ file: string }> };

async function answer(_request: Request, { params }: Params): Promise<Response> {
  const language = /^(\w+)\.js$/.exec((await params).file)?.[1];
  const script = isLanguage(language) ? wordsScript(language) : null;
  if (script === null) return new Response(null, { status: 404 });
  return new Response(script, {
    headers: { 'content-type': 'text/javascript; charset=utf-8', 'cache-control': KEPT },
  });
}

/** The words of a language as a script of the page, under an address that changes with them. */
export const GET = Object.assign(answer, {
  route: { permission: 'public', kind: 'read' } satisfies RouteDescription,
});
