'use client';

import { useQuery } from '@tanstack/react-query';
import { type GeoProjection, geoPath } from 'd3-geo';
import { Fragment, type PointerEvent, useEffect, useMemo, useRef } from 'react';
import type { MapMark } from '@/lib/catalogue/figures-wire';
import { countOf } from '@/lib/platform/words/say';
import classes from './map.module.css';
import {
  chooseWords,
  degreePx,
  LEAST_ZOOM,
  MOST_ZOOM,
  moveView,
  radiusOf,
  type Size,
  sayPlaces,
  type View,
  zoomView,
} from './map-geometry';
import { countiesOptions, outlinesOptions } from './map-outlines';
import { usePath } from './map-paths';

/** Counties are drawn from this many pixels a degree on. */
const COUNTIES_FROM_PX = 40;
/** So many of the largest marks may have words. */
const WITH_WORDS = 60;
/** A turn of the wheel by this much doubles the map. */
const WHEEL_PX = 400;

const sayMark = (mark: MapMark): string => `${sayPlaces(mark)}: ${countOf(mark.count, 'bird')}`;

/** How a mark looks that stands, in part, at a coarser place than is recorded. */
export const COARSE = { 'data-coarse': true, fill: 'url(#map-coarse)' } as const;

/** Outlines with the marks on them. The list beside it has the same for keyboards and screen readers. */
export function MapDrawing({
  marks,
  projection,
  size,
  view,
  onView,
  active,
  onActive,
  hrefOf,
  onOpen,
  label,
}: {
  marks: readonly MapMark[];
  projection: GeoProjection;
  size: Size;
  view: View;
  onView: (change: (view: View) => View) => void;
  active: string | null;
  onActive: (id: string | null) => void;
  hrefOf: (mark: MapMark) => string;
  onOpen: (mark: MapMark) => void;
  label: string;
}) {
  const svg = useRef<SVGSVGElement>(null);
  const zoom = view.k;
  const drag = useRef<{ x: number; y: number } | null>(null);

  useEffect(() => {
    const node = svg.current;
    // React listens passively to the wheel, so that the page would scroll along.
    const onWheel = (event: WheelEvent) => {
      const isAtEnd = event.deltaY > 0 ? zoom <= LEAST_ZOOM : zoom >= MOST_ZOOM;
      if (isAtEnd) return;
      event.preventDefault();
      const box = (event.currentTarget as SVGSVGElement).getBoundingClientRect();
      const at = { x: event.clientX - box.left, y: event.clientY - box.top };
      const lines = event.deltaMode === 0 ? event.deltaY : event.deltaY * 16;
      onView((before) => zoomView(before, 2 ** (-lines / WHEEL_PX), at, size));
    };
    node?.addEventListener('wheel', onWheel, { passive: false });
    return () => node?.removeEventListener('wheel', onWheel);
  }, [onView, size, zoom]);

  const onMove = (event: PointerEvent) => {
    const from = drag.current;
    if (from === null) return;
    const [dx, dy] = [event.clientX - from.x, event.clientY - from.y];
    drag.current = { x: event.clientX, y: event.clientY };
    onView((before) => moveView(before, dx, dy, size));
  };
  const stop = () => {
    drag.current = null;
  };

  const most = Math.max(1, ...marks.map(({ count }) => count));
  const drawn = marks.flatMap((mark) => {
    const point = projection([mark.longitude, mark.latitude]);
    if (point === null) return [];
    const [x, y] = [view.x + view.k * point[0], view.y + view.k * point[1]];
    const { id, count } = mark;
    const name = mark.places[0]?.split(', ')[0] ?? '';
    return [{ mark, id, x, y, count, radius: radiusOf(count, most), name }];
  });
  const words = chooseWords(drawn.slice(0, WITH_WORDS));
  return (
    <svg
      ref={svg}
      className={classes.map}
      width={size.width}
      height={size.height}
      // biome-ignore lint/a11y/noRedundantRoles: browsers do not agree on the role that it has of itself
      role="graphics-document"
      aria-roledescription="map"
      aria-label={label}
      onPointerDown={(event) => {
        const isMark = (event.target as Element).closest('a') !== null;
        if (event.pointerType === 'mouse' && event.button === 0 && !isMark)
          drag.current = { x: event.clientX, y: event.clientY };
      }}
      onPointerMove={onMove}
      onPointerUp={stop}
      onPointerLeave={stop}
    >
      <defs>
        <pattern id="map-coarse" width="6" height="6" patternUnits="userSpaceOnUse">
          <rect width="6" height="6" className={classes.coarseGround} />
          <path d="M-1 5 L5 -1 M2 8 L8 2" className={classes.coarseHatch} />
        </pattern>
      </defs>
      <g transform={`translate(${view.x} ${view.y}) scale(${view.k})`}>
        <Outlines projection={projection} near={degreePx(projection.scale(), view.k) >= COUNTIES_FROM_PX} />
      </g>
      {drawn.map(({ mark, x, y, radius }) => (
        <a
          key={mark.id}
          className={classes.mark}
          href={hrefOf(mark)}
          tabIndex={-1}
          aria-label={sayMark(mark)}
          data-active={active === mark.id || undefined}
          onClick={(event) => {
            if (event.metaKey || event.ctrlKey || event.shiftKey) return;
            event.preventDefault();
            onOpen(mark);
          }}
          onPointerEnter={() => onActive(mark.id)}
          onPointerLeave={() => onActive(null)}
        >
          <circle cx={x} cy={y} r={radius} {...(mark.coarse > 0 ? COARSE : {})} />
          <title>{sayMark(mark)}</title>
        </a>
      ))}
      <g className={classes.words}>
        {drawn.map(({ id, x, y, radius, count, name }) => (
          <Fragment key={id}>
            {words.counts.has(id) ? (
              <text x={x} y={y + 5}>
                {count}
              </text>
            ) : null}
            {words.names.has(id) ? (
              <text className={classes.name} x={x} y={y + radius + 15}>
                {name}
              </text>
            ) : null}
          </Fragment>
        ))}
      </g>
    </svg>
  );
}

/** Land, borders of countries and states, and near by those of counties. */
function Outlines({ projection, near }: { projection: GeoProjection; near: boolean }) {
  const { data: outlines } = useQuery(outlinesOptions());
  const { data: counties } = useQuery(countiesOptions(near));
  const path = useMemo(() => geoPath(projection).digits(2), [projection]);
  const land = usePath(outlines?.land, path);
  const states = usePath(outlines?.states, path);
  const countyLines = usePath(counties, path);
  return (
    <>
      <path className={classes.land} d={land} />
      {near ? <path className={classes.county} d={countyLines} /> : null}
      <path className={classes.state} d={states} />
    </>
  );
}
