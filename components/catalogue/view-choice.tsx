'use client';

import { useSearchParams } from 'next/navigation';
import { Link } from '@/components/ui/link';
import { paths } from '@/lib/platform/paths';
import { phrases, say } from '@/lib/platform/words/say';
import classes from './search.module.css';

const LABELS = phrases({ table: 'List', map: 'Map', charts: 'Charts' } as const);
export type ResultView = keyof typeof LABELS;
const VIEWS = Object.keys(LABELS) as ResultView[];

/** What the address says of the view; anything else is the list. */
export const viewOf = (text: string | null): ResultView => VIEWS.find((view) => view === text) ?? 'table';

/** The same hits as a list, on a map or as charts; kept in the address. */
export function ViewChoice({ view }: { view: ResultView }) {
  const search = useSearchParams();
  const hrefOf = (one: ResultView) => {
    const next = new URLSearchParams(search);
    next.delete('after');
    if (one === 'table') next.delete('view');
    else next.set('view', one);
    const text = next.toString();
    return text === '' ? paths.catalogue : `${paths.catalogue}?${text}`;
  };
  return (
    <nav aria-label={say('View of the result')} className={classes.views}>
      {VIEWS.map((one) => (
        <Link key={one} href={hrefOf(one)} scroll={false} aria-current={one === view ? 'page' : undefined}>
          {LABELS[one]}
        </Link>
      ))}
    </nav>
  );
}
