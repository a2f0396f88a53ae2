import { quantile } from 'd3-array';
import { header, row } from './markdown';

/** One load of a page by somebody who has never been there. */
export type PageLoad = {
  /** First contentful paint, in ms from the navigation. */
  paintMs: number;
  /** Work that kept the page from answering between that paint and quiet, in ms. */
  blockedMs: number;
  /** Scripts that the document itself asks for, as they were transferred. */
  firstBytes: number;
  /** With those that came later: for what shows after the first paint, and for pages near by. */
  allBytes: number;
};
export type PageFigures = PageLoad & { name: string; who: string };

/** The most that a page may take. */
export const PAGE_LIMITS = { paintMs: 1000, blockedMs: 150, firstBytes: 250_000 } as const;
/** A task that takes longer than this keeps a person waiting for the rest of it (W3C Long Tasks). */
const FELT_MS = 50;

export type Task = { startTime: number; duration: number };

/** Total blocking time: what tasks after the paint took beyond 50 ms each, in ms. */
export const blockedMs = (tasks: readonly Task[], paintMs: number): number =>
  tasks
    .filter(({ startTime, duration }) => startTime + duration > paintMs)
    .map(({ startTime, duration }) => Math.min(duration, startTime + duration - paintMs))
    .reduce((sum, duration) => sum + Math.max(0, duration - FELT_MS), 0);

/** The addresses of the scripts that an HTML document asks for, each once. */
export const scriptsOf = (html: string): Set<string> =>
  new Set(
    [...html.matchAll(/<script\b[^>]*\bsrc="([^"]+)"/g)].map(([, src]) =>
      (src ?? '').replaceAll('&amp;', '&'),
    ),
  );

/** The median of each figure over several loads. */
export function medianLoad(loads: readonly PageLoad[]): PageLoad {
  const of = (key: keyof PageLoad) =>
    quantile(
      loads.map((load) => load[key]),
      0.5,
    ) ?? 0;
  return {
    paintMs: of('paintMs'),
    blockedMs: of('blockedMs'),
    firstBytes: of('firstBytes'),
    allBytes: of('allBytes'),
  };
}

/** A Markdown table of pages; what is over its limit stands in bold. */
export function sayPages(pages: readonly PageFigures[]): string {
  const mark = (key: keyof typeof PAGE_LIMITS, value: number, said: string) =>
    value > PAGE_LIMITS[key] ? `**${said}**` : said;
  const isOver = (page: PageFigures) =>
    (['paintMs', 'blockedMs', 'firstBytes'] as const).some((key) => page[key] > PAGE_LIMITS[key]);
  const kB = (bytes: number) => (bytes / 1000).toFixed(0);
  return [
    ...header([
      'page',
      'as',
      'first paint, ms',
      'blocked, ms',
      'JavaScript, kB',
      'with what comes later, kB',
    ]),
    ...pages.map((page) =>
      row([
        page.name,
        page.who,
        mark('paintMs', page.paintMs, page.paintMs.toFixed(0)),
        mark('blockedMs', page.blockedMs, page.blockedMs.toFixed(0)),
        mark('firstBytes', page.firstBytes, kB(page.firstBytes)),
        kB(page.allBytes),
      ]),
    ),
    '',
    `${pages.filter(isOver).length} of ${pages.length} pages are over a limit (first paint ${PAGE_LIMITS.paintMs} ms, blocked ${PAGE_LIMITS.blockedMs} ms, JavaScript ${PAGE_LIMITS.firstBytes / 1000} kB); these stand in bold.`,
  ].join('\n');
}
