import { isLanguage } from '@/lib/platform/words/languages';
import { wordsScript } from '@/lib/platform/words/request-language';

const KEPT = 'public, max-age=31536000, immutable';

/** The words of a language as a script of the page; its address changes with them. Public: the sign-in page speaks too. */
export async function GET(_request: Request, { params }: { params: Promise<{ file: string }> }) {
  const language = /^(\w+)\.js$/.exec((await params).file)?.[1];
  const script = isLanguage(language) ? wordsScript(language) : null;
  if (script === null) return new Response(null, { status: 404 });
  return new Response(script, {
    headers: { 'content-type': 'text/javascript; charset=utf-8', 'cache-control': KEPT },
  });
}
