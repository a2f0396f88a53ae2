'use client';

import { IconChevronDown, IconChevronRight } from '@tabler/icons-react';
import { type CSSProperties, useState } from 'react';
import { Link } from '@/components/ui/link';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import type { UnitRow } from '@/lib/storage/wire';
import { LoadBar } from './load-bar';
import classes from './unit-tree.module.css';
import { sayKind, sayTemperature } from './words';

const byName = (a: UnitRow, b: UnitRow) => a.name.localeCompare(b.name, 'en', { numeric: true });

/** The store as a tree that opens level by level; each unit with its temperature and what it holds. */
export function UnitTree({ units }: { units: readonly UnitRow[] }) {
  const roots = units.filter((unit) => unit.parentId === null).sort(byName);
  const children = new Map<string, UnitRow[]>();
  for (const unit of units) {
    if (unit.parentId !== null) children.set(unit.parentId, [...(children.get(unit.parentId) ?? []), unit]);
  }
  return (
    <ul className={classes.tree} aria-label={say('Places of the store')}>
      {roots.map((unit) => (
        <Branch key={unit.id} unit={unit} childrenOf={children} depth={0} />
      ))}
    </ul>
  );
}

function Branch({
  unit,
  childrenOf,
  depth,
}: {
  unit: UnitRow;
  childrenOf: ReadonlyMap<string, UnitRow[]>;
  depth: number;
}) {
  const inside = [...(childrenOf.get(unit.id) ?? [])].sort(byName);
  // Houses and rooms stand open: what one looks for first is the freezer.
  const [isOpen, setOpen] = useState(unit.kind === 'site' || unit.kind === 'room');
  const Icon = isOpen ? IconChevronDown : IconChevronRight;
  return (
    <li>
      <div
        className={classes.row}
        style={{ '--depth': depth } as CSSProperties}
        data-off={!unit.active || undefined}
      >
        {inside.length === 0 ? (
          <span className={classes.gap} />
        ) : (
          <button
            type="button"
            className={classes.turn}
            aria-expanded={isOpen}
            aria-label={`${unit.name}: ${isOpen ? 'close' : 'open'}`}
            onClick={() => setOpen(!isOpen)}
          >
            <Icon size={18} stroke={1.75} aria-hidden="true" />
          </button>
        )}
        <span className={classes.name}>
          <Link href={paths.storageUnit(unit.id)}>{unit.name}</Link>
          <span className={classes.kind}>
            {[
              sayKind(unit.kind).toLowerCase(),
              sayTemperature(unit.targetTempC),
              unit.active ? null : say('not in use'),
            ]
              .filter(Boolean)
              .join(', ')}
          </span>
        </span>
        <LoadBar unit={unit} />
      </div>
      {isOpen && inside.length > 0 && (
        <ul>
          {inside.map((child) => (
            <Branch key={child.id} unit={child} childrenOf={childrenOf} depth={depth + 1} />
          ))}
        </ul>
      )}
    </li>
  );
}
