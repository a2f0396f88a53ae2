'use client';

import { Link } from '@/components/ui/link';
import type { MapMark } from '@/lib/catalogue/figures-wire';
import { countOf, say } from '@/lib/platform/words/say';
import classes from './map.module.css';
import { sayPlaces } from './map-geometry';

const SHOWN = 20;
const MOST_LISTED = 300;

type MarkListProps = {
  marks: readonly MapMark[];
  hrefOf: (mark: MapMark) => string;
  active: string | null;
  onActive: (id: string | null) => void;
};

/** The marks as links, most birds first; each opens the list of its birds. */
export function MarkList(props: MarkListProps) {
  const { marks } = props;
  const listed = marks.slice(0, MOST_LISTED);
  return (
    <>
      <Marks {...props} marks={listed.slice(0, SHOWN)} />
      {listed.length > SHOWN ? (
        <details className={classes.more}>
          <summary>{say('{length} more', { length: listed.length - SHOWN })}</summary>
          <Marks {...props} marks={listed.slice(SHOWN)} />
        </details>
      ) : null}
      {marks.length > MOST_LISTED ? (
        <p>
          {say('{of} with fewer birds: narrow the search to list them.', {
            of: countOf(marks.length - MOST_LISTED, 'place'),
          })}
        </p>
      ) : null}
    </>
  );
}

function Marks({ marks, hrefOf, active, onActive }: MarkListProps) {
  return (
    <ol className={classes.marks}>
      {marks.map((mark) => (
        <li key={mark.id}>
          <Link
            href={hrefOf(mark)}
            data-active={active === mark.id || undefined}
            onFocus={() => onActive(mark.id)}
            onBlur={() => onActive(null)}
            onPointerEnter={() => onActive(mark.id)}
            onPointerLeave={() => onActive(null)}
          >
            <span>{sayPlaces(mark)}</span>
            <span className={classes.count}>
              {mark.count}
              <span className="f-hidden"> {mark.count === 1 ? say('bird') : say('birds')}</span>
              {mark.coarse > 0 ? (
                <span className={classes.coarse}>{say(' ({coarse} coarse)', { coarse: mark.coarse })}</span>
              ) : null}
            </span>
          </Link>
        </li>
      ))}
    </ol>
  );
}
