'use client';

import { type KeyboardEvent, useId, useRef, useState } from 'react';
import { actOf } from '@/components/ui/shortcuts/table';
import { useKeyArea } from '@/components/ui/shortcuts/use-shortcuts';
import { phrases, say } from '@/lib/platform/words/say';
import { countPositions, formatPosition } from '@/lib/storage/positions';
import type { Grid } from '@/lib/storage/schema';
import styles from './box-map.module.css';
import { positionAfterKey } from './box-map-keys';

/** How a vial in a box is drawn. */
export type BoxLook = 'stored' | 'partly-used' | 'on-loan' | 'missing';

export type BoxOccupant = {
  materialId: string;
  /** In full, for screen readers and the title: "LV-2026-00417-T1, liver". */
  label: string;
  /** A few letters drawn inside. */
  mark: string;
  look: BoxLook;
};

export type BoxMapProps = {
  name: string;
  grid: Grid;
  /** By position, counted along rows from 0. */
  occupants: ReadonlyMap<number, BoxOccupant>;
  selected: number | null;
  onSelect: (position: number) => void;
  /** Absent where nothing may be moved. Called for an occupied and a free position only. */
  onMove?: (from: number, to: number) => void;
};

export const lookWords: Record<BoxLook, string> = phrases({
  stored: 'stored',
  'partly-used': 'partly used',
  'on-loan': 'out on loan',
  missing: 'missing',
});

const step = 44;
const head = 24;
const radius = 17;

/**
 * A box seen from above, drawn: a ring for each position, filled where a vial stands. Arrow keys walk, Enter
 * selects, M picks a vial up and puts it down, Escape lets go; with a pointer, click and drag.
 */
export function BoxMap({ name, grid, occupants, selected, onSelect, onMove }: BoxMapProps) {
  const id = useId();
  useKeyArea('box');
  const [active, setActive] = useState(selected ?? 0);
  const [lifted, setLifted] = useState<number | null>(null);
  const [message, setMessage] = useState('');
  const cells = useRef(new Map<number, SVGGElement>());
  const pressed = useRef<number | null>(null);
  const current = Math.min(active, countPositions(grid) - 1);
  const word = (position: number) => formatPosition(grid, position);

  function walkTo(position: number) {
    setActive(position);
    cells.current.get(position)?.focus();
  }

  function lift(position: number) {
    const occupant = occupants.get(position);
    if (!onMove || !occupant) return;
    setLifted(position);
    setMessage(
      say('{label} picked up from {word}. Go to a free position and press M.', {
        label: occupant.label,
        word: word(position),
      }),
    );
  }

  function letGo() {
    setLifted(null);
    setMessage(say('Left where it was.'));
  }

  function putDown(from: number, to: number) {
    if (from === to) return letGo();
    const holder = occupants.get(to);
    if (holder)
      return setMessage(say('{word} already holds {label}.', { word: word(to), label: holder.label }));
    setLifted(null);
    setMessage(say('Moved from {word} to {word2}.', { word: word(from), word2: word(to) }));
    onMove?.(from, to);
  }

  function handleKey(event: KeyboardEvent, position: number) {
    const act = actOf('box', event);
    const next = positionAfterKey(grid, position, event.key, event.ctrlKey || event.metaKey);
    if (act === null) return;
    if (next !== null) walkTo(next);
    else if (act === 'box.select') onSelect(position);
    else if (act === 'box.lift') {
      if (lifted === null) lift(position);
      else putDown(lifted, position);
    } else if (act === 'box.let-go' && lifted !== null) letGo();
    else return;
    event.preventDefault();
  }

  function handleRelease(position: number) {
    const from = pressed.current;
    pressed.current = null;
    if (from !== null && from !== position && onMove && occupants.has(from)) putDown(from, position);
  }

  const width = head + grid.columns * step + 8;
  const height = head + grid.rows * step + 8;
  return (
    <figure className={styles.figure}>
      <svg
        className={styles.box}
        viewBox={`0 0 ${width} ${height}`}
        style={{ maxWidth: width * 1.4 }}
        onPointerLeave={() => {
          pressed.current = null;
        }}
      >
        <title>{name}</title>
        <Hatches id={id} />
        <Walls grid={grid} />
        {/* biome-ignore lint/a11y/useSemanticElements: a drawing has no table elements */}
        <g
          role="grid"
          tabIndex={-1}
          aria-label={say('{name}: {size} of {positions} positions taken', {
            name,
            size: occupants.size,
            positions: countPositions(grid),
          })}
          aria-rowcount={grid.rows}
          aria-colcount={grid.columns}
        >
          {Array.from({ length: grid.rows }, (_, row) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: rows of a grid are their index
            // biome-ignore lint/a11y/useSemanticElements: a drawing has no table elements
            <g key={row} role="row" aria-rowindex={row + 1} tabIndex={-1}>
              {Array.from({ length: grid.columns }, (_, column) => {
                const position = row * grid.columns + column;
                const occupant = occupants.get(position);
                return (
                  // biome-ignore lint/a11y/useSemanticElements: a drawing has no table elements
                  <g
                    key={position}
                    ref={(element) => {
                      if (element) cells.current.set(position, element);
                      else cells.current.delete(position);
                    }}
                    role="gridcell"
                    aria-colindex={column + 1}
                    aria-selected={position === selected}
                    aria-label={nameCell(word(position), occupant, position === lifted)}
                    tabIndex={position === current ? 0 : -1}
                    className={styles.cell}
                    data-look={occupant?.look ?? 'free'}
                    data-lifted={position === lifted || undefined}
                    transform={`translate(${head + column * step + step / 2} ${head + row * step + step / 2})`}
                    onClick={() => {
                      setActive(position);
                      onSelect(position);
                    }}
                    onPointerDown={() => {
                      pressed.current = position;
                    }}
                    onPointerUp={() => handleRelease(position)}
                    onFocus={() => setActive(position)}
                    onKeyDown={(event) => handleKey(event, position)}
                  >
                    <Vial
                      id={id}
                      occupant={occupant}
                      isSelected={position === selected}
                      name={word(position)}
                    />
                  </g>
                );
              })}
            </g>
          ))}
        </g>
      </svg>
      <p className={styles.message} aria-live="polite">
        {message}
      </p>
    </figure>
  );
}

function nameCell(position: string, occupant: BoxOccupant | undefined, isLifted: boolean): string {
  if (!occupant) return say('{position}, free', { position });
  return `${position}, ${occupant.label}, ${lookWords[occupant.look]}${isLifted ? say(', picked up') : ''}`;
}

/** Hatches beside the fills, so that print and colour-blind eyes can tell. */
function Hatches({ id }: { id: string }) {
  return (
    <defs>
      <pattern
        id={`${id}-lines`}
        width="5"
        height="5"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <line x1="0" y1="0" x2="0" y2="5" className={styles.hatch} />
      </pattern>
      <pattern id={`${id}-dots`} width="5" height="5" patternUnits="userSpaceOnUse">
        <circle cx="2.5" cy="2.5" r="0.9" className={styles.dot} />
      </pattern>
    </defs>
  );
}

/** The cardboard: walls, dividers, and the names along two sides where the scheme has them. */
function Walls({ grid }: { grid: Grid }) {
  const right = head + grid.columns * step;
  const bottom = head + grid.rows * step;
  const columnNames = Array.from({ length: grid.columns }, (_, column) => formatPosition(grid, column));
  const rowNames = Array.from({ length: grid.rows }, (_, row) => formatPosition(grid, row * grid.columns));
  const letters = (name: string) => name.replace(/\d+$/, '');
  const figures = (name: string) => name.replace(/^[A-Z]+/, '');
  const isRunning = grid.scheme === 'running-by-row' || grid.scheme === 'running-by-column';
  const [top, left] = grid.scheme === 'column-letter' ? [letters, figures] : [figures, letters];
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g aria-hidden="true" className={styles.walls}>
      <rect x={head - 3} y={head - 3} width={right - head + 6} height={bottom - head + 6} rx={5} />
      <rect x={head} y={head} width={right - head} height={bottom - head} rx={2} />
      {columnNames.slice(1).map((name, index) => (
        <line
          key={name}
          x1={head + (index + 1) * step}
          y1={head}
          x2={head + (index + 1) * step}
          y2={bottom}
        />
      ))}
      {rowNames.slice(1).map((name, index) => (
        <line key={name} x1={head} y1={head + (index + 1) * step} x2={right} y2={head + (index + 1) * step} />
      ))}
      {!isRunning &&
        columnNames.map((name, index) => (
          <text key={name} x={head + index * step + step / 2} y={head - 9}>
            {top(name)}
          </text>
        ))}
      {!isRunning &&
        rowNames.map((name, index) => (
          <text key={name} x={head - 12} y={head + index * step + step / 2 + 4}>
            {left(name)}
          </text>
        ))}
    </g>
  );
}

function Vial({
  id,
  occupant,
  isSelected,
  name,
}: {
  id: string;
  occupant: BoxOccupant | undefined;
  isSelected: boolean;
  name: string;
}) {
  if (!occupant) {
    return (
      <>
        <circle r={step / 2} className={styles.reach} />
        <circle r={radius - 5} className={styles.free} />
        <text className={styles.number} y={3.5}>
          {name}
        </text>
        {isSelected && <circle r={radius + 2.5} className={styles.selected} />}
      </>
    );
  }
  const hatch = { stored: null, 'partly-used': 'lines', 'on-loan': 'dots', missing: null }[occupant.look];
  return (
    <>
      <title>{`${name}: ${occupant.label}`}</title>
      <circle r={step / 2} className={styles.reach} />
      <circle r={radius} className={styles.cap} />
      {hatch && <circle r={radius} fill={`url(#${id}-${hatch})`} />}
      {occupant.look === 'missing' && <path d="M -10 10 L 10 -10" className={styles.stroke} />}
      <circle r={radius - 3} className={styles.lid} />
      <text className={styles.mark} y={4}>
        {occupant.mark}
      </text>
      {isSelected && <circle r={radius + 2.5} className={styles.selected} />}
    </>
  );
}
