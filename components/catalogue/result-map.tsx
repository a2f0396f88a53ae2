'use client';

import { ActionIcon, Button } from '@mantine/core';
import { useElementSize } from '@mantine/hooks';
import {
  IconArrowDown,
  IconArrowLeft,
  IconArrowRight,
  IconArrowUp,
  IconMinus,
  IconPlus,
} from '@tabler/icons-react';
import { useQuery } from '@tanstack/react-query';
import { useRouter, useSearchParams } from 'next/navigation';
import { useMemo, useState } from 'react';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import type { MapAnswer, MapMark } from '@/lib/catalogue/figures-wire';
import { hasTerm, toggleTerm } from '@/lib/catalogue/query/edit';
import { paths } from '@/lib/platform/paths';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import classes from './map.module.css';
import { COARSE, MapDrawing } from './map-drawing';
import {
  degreePx,
  fitProjection,
  heightFor,
  keyCounts,
  moveView,
  radiusOf,
  type Size,
  sayPlaces,
  stepFor,
  type View,
  WHOLE,
  zoomView,
} from './map-geometry';
import { MarkList } from './mark-list';
import { mapOptions } from './queries';

/** The grid that the map is first laid out by. */
const FIRST_STEP = 1;

/** Beside the map there is room for the list from this width on. */
const WIDE_PX = 900;
const LIST_PX = 304;

/** The hits of a search on a map, with the same as a list beside it. */
export function ResultMap({ q }: { q: string }) {
  const { ref, width } = useElementSize();
  const isWide = width >= WIDE_PX;
  const size = useMemo(() => {
    const own = isWide ? width - LIST_PX : width;
    return { width: own, height: heightFor(own) };
  }, [width, isWide]);
  const { data, error, refetch } = useQuery(mapOptions({ q, step: FIRST_STEP }));
  return (
    <div ref={ref}>
      {data === undefined ? (
        error === null ? (
          <Loading what={say('Drawing the map')} lines={8} />
        ) : (
          <ErrorState error={error} onRetry={() => void refetch()} />
        )
      ) : data.total === 0 ? (
        <EmptyState title={say('No bird fits')}>
          <p>{say('Take a word away, or look under “How to ask”.')}</p>
        </EmptyState>
      ) : width > 0 ? (
        <FittedMap key={q} q={q} first={data} size={size} isWide={isWide} />
      ) : null}
    </div>
  );
}

function FittedMap({ q, first, size, isWide }: { q: string; first: MapAnswer; size: Size; isWide: boolean }) {
  const router = useRouter();
  const search = useSearchParams();
  const [view, setView] = useState<View>(WHOLE);
  const [active, setActive] = useState<string | null>(null);
  // Laid out once for a search: marks that change with the grid do not shift the land.
  const [places] = useState(first.marks);
  const projection = useMemo(() => fitProjection(places, size), [places, size]);
  const step = stepFor(degreePx(projection.scale(), view.k));
  const { data = first, error, refetch } = useQuery(mapOptions({ q, step }));
  const hrefOf = (mark: MapMark) => {
    const next = new URLSearchParams(search);
    const terms = mark.terms.filter((term) => !hasTerm(q, term));
    next.set('q', terms.reduce(toggleTerm, q));
    next.delete('view');
    next.delete('after');
    return `${paths.catalogue}?${next}`;
  };
  const onOpen = (mark: MapMark) => router.push(hrefOf(mark));
  return (
    <div className={classes.layout} data-wide={isWide || undefined}>
      <div>
        <MapTools size={size} onView={setView} />
        <MapDrawing
          marks={data.marks}
          projection={projection}
          size={size}
          view={view}
          onView={setView}
          active={active}
          onActive={setActive}
          hrefOf={hrefOf}
          onOpen={onOpen}
          label={sayMap(data)}
        />
        <MapKey marks={data.marks} />
      </div>
      <section aria-labelledby="marks-title">
        <h2 id="marks-title">{say('On the map')}</h2>
        <p role="status">{sayMap(data)}</p>
        {error === null ? null : <ErrorState error={error} onRetry={() => void refetch()} />}
        <MarkList marks={data.marks} hrefOf={hrefOf} active={active} onActive={setActive} />
      </section>
    </div>
  );
}

const MOVES = phrases([
  ['Move west', IconArrowLeft, 1, 0],
  ['Move north', IconArrowUp, 0, 1],
  ['Move south', IconArrowDown, 0, -1],
  ['Move east', IconArrowRight, -1, 0],
] as const);

function MapTools({ size, onView }: { size: Size; onView: (change: (view: View) => View) => void }) {
  const zoom = (by: number) =>
    onView((view) => zoomView(view, by, { x: size.width / 2, y: size.height / 2 }, size));
  return (
    <section className={classes.tools} aria-label={say('Move the map')}>
      <ActionIcon variant="default" size="lg" aria-label={say('Nearer')} onClick={() => zoom(2)}>
        <IconPlus size={20} stroke={1.5} aria-hidden="true" />
      </ActionIcon>
      <ActionIcon variant="default" size="lg" aria-label={say('Farther')} onClick={() => zoom(0.5)}>
        <IconMinus size={20} stroke={1.5} aria-hidden="true" />
      </ActionIcon>
      {MOVES.map(([label, Icon, dx, dy]) => (
        <ActionIcon
          key={label}
          variant="default"
          size="lg"
          aria-label={label}
          onClick={() =>
            onView((view) => moveView(view, (dx * size.width) / 4, (dy * size.height) / 4, size))
          }
        >
          <Icon size={20} stroke={1.5} aria-hidden="true" />
        </ActionIcon>
      ))}
      <Button variant="default" onClick={() => onView(() => WHOLE)}>
        {say('All of it')}
      </Button>
    </section>
  );
}

function sayMap({ total, unplaced, marks, by }: MapAnswer): string {
  const drawn = countOf(total - unplaced, 'bird');
  const where = countOf(marks.length, 'place');
  const how = by === 'counties' ? say(', each in the middle of its county or state') : '';
  const coarse = marks.reduce((sum, mark) => sum + mark.coarse, 0);
  return [
    say('{drawn} at {where}{how}.', { drawn, where, how }),
    coarse > 0
      ? say('{of} of protected kinds at a coarser place than is recorded.', { of: countOf(coarse, 'bird') })
      : '',
    unplaced === 0
      ? ''
      : by === 'counties'
        ? say('{of} in places whose outline is not known here.', { of: countOf(unplaced, 'bird') })
        : say('{of} without coordinates.', { of: countOf(unplaced, 'bird') }),
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}

function MapKey({ marks }: { marks: readonly MapMark[] }) {
  const most = Math.max(1, ...marks.map(({ count }) => count));
  const hasCoarse = marks.some(({ coarse }) => coarse > 0);
  const top = marks[0];
  return (
    <ul className={classes.key} aria-label={say('Key of the map')}>
      {keyCounts(most).map((count) => {
        const radius = radiusOf(count, most);
        return (
          <li key={count}>
            <svg width={2 * radius + 4} height={2 * radius + 4} className={classes.mark} aria-hidden="true">
              <circle cx={radius + 2} cy={radius + 2} r={radius} />
            </svg>
            {countOf(count, 'bird')}
          </li>
        );
      })}
      {hasCoarse ? (
        <li>
          <svg width="24" height="24" className={classes.mark} aria-hidden="true">
            <circle cx="12" cy="12" r="10" {...COARSE} />
          </svg>
          {say('some at a coarser place')}
        </li>
      ) : null}
      {top ? <li>{say('Most in {places}', { places: sayPlaces(top) })}</li> : null}
    </ul>
  );
}
