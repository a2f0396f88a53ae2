'use client';

import {
  type FocusEvent,
  type KeyboardEvent,
  type MouseEvent,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react';
import { actOf } from '@/components/ui/shortcuts/table';
import { useKeyArea } from '@/components/ui/shortcuts/use-shortcuts';
import { phrases, say } from '@/lib/platform/words/say';
import { ELEMENTS, elementName, portionName } from '@/lib/skeletons/elements';
import { whereabouts } from '@/lib/skeletons/rules/entries';
import type { BoneEntry, BonePatch } from '@/lib/skeletons/schema';
import { GENERAL_PROFILE, type SkeletonProfile } from '@/lib/skeletons/taxa';
import { BoneMarkView } from './bone-mark';
import styles from './bone-plate.module.css';
import { PLATE } from './geometry/shape';
import { HatchDefs } from './hatches';
import { patchOf } from './keys';
import { type Arrow, type BoneMark, GROUP_LABELS, MARK_GROUPS, marksOf, neighbourOf } from './marks';

export interface BoneDrawingProps {
  entries: readonly BoneEntry[];
  /** What the bird's taxon should have; the bird at large if not given. */
  profile?: SkeletonProfile;
  readOnly?: boolean;
  selectedKey?: string | null;
  /** A bone was pressed, or Enter or the space bar on it. */
  onSelect?: (key: string) => void;
  /** A number key set a place, or w, b, m a state. */
  onChange?: (key: string, patch: BonePatch) => void;
}

const CAPTIONS = phrases([
  { x: 375, y: 226, text: 'lower jaw' },
  { x: 825, y: 236, text: 'tongue bones' },
  { x: 214, y: 788, text: 'breastbone, from its left' },
  { x: 990, y: 806, text: 'wishbone, from in front' },
] as const);

const keyAt = (target: EventTarget): string | null =>
  target instanceof Element ? (target.closest('[data-key]')?.getAttribute('data-key') ?? null) : null;

/** The name and whereabouts of the bone under the pointer or in focus, written between the legs. */
function PlateText({ mark }: { mark: BoneMark | undefined }) {
  if (!mark) return null;
  const { element, side, portion, entry } = mark;
  const state = entry.state === 'broken' ? ', broken' : '';
  return (
    <g>
      <text className={styles.named} x={PLATE.midline} y="838">
        {elementName(element, side)}
      </text>
      <text className={styles.caption} x={PLATE.midline} y="864">
        {ELEMENTS[element].term}
      </text>
      <text className={styles.whereabouts} x={PLATE.midline} y="894">
        {`${portionName(element, portion)}${state}: ${whereabouts(entry)}`}
      </text>
    </g>
  );
}

function Captions() {
  return (
    <g>
      {CAPTIONS.map(({ x, y, text }) => (
        <text key={text} className={styles.caption} x={x} y={y}>
          {text}
        </text>
      ))}
      <text className={`${styles.caption} ${styles.side}`} x="110" y="500">
        {say('left')}
      </text>
      <text className={`${styles.caption} ${styles.side}`} x="1090" y="500">
        {say('right')}
      </text>
    </g>
  );
}

/**
 * The bird's skeleton from above, every bone coloured and hatched by where it goes. Tab goes from region to region, the
 * arrow keys from bone to bone; Enter or space selects; 1–8 set a place, 0 clears it, w, b and m say whole, broken, missing.
 */
export function BoneDrawing(props: BoneDrawingProps) {
  const {
    entries,
    profile = GENERAL_PROFILE,
    readOnly = false,
    selectedKey = null,
    onSelect,
    onChange,
  } = props;
  const prefix = useId().replace(/\W/g, '');
  const plate = useRef<SVGSVGElement>(null);
  useKeyArea('bones');
  const [activeKey, setActiveKey] = useState<string | null>(null);
  const [hoveredKey, setHoveredKey] = useState<string | null>(null);
  const marks = useMemo(() => marksOf(entries, profile), [entries, profile]);
  const find = (key: string | null) => marks.find((mark) => mark.key === key);

  function focusMark(mark: BoneMark) {
    setActiveKey(mark.key);
    plate.current?.querySelector<SVGGElement>(`[data-key="${mark.key}"]`)?.focus();
  }

  function handleKey(event: KeyboardEvent<SVGSVGElement>) {
    const mark = find(keyAt(event.target));
    if (!mark) return;
    const act = actOf('bones', event);
    const patch = readOnly ? null : patchOf(act, event.key);
    if (act === 'bones.walk') {
      const next = neighbourOf(marks, mark, event.key as Arrow);
      if (next) focusMark(next);
    } else if (act === 'bones.select') {
      onSelect?.(mark.key);
    } else if (patch) {
      onChange?.(mark.key, patch);
    } else {
      return;
    }
    event.preventDefault();
  }

  function handleClick(event: MouseEvent<SVGSVGElement>) {
    const mark = find(keyAt(event.target));
    if (!mark) return;
    focusMark(mark);
    onSelect?.(mark.key);
  }

  return (
    <div className={styles.plate}>
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing whose bones are its controls */}
      <svg
        ref={plate}
        role="group"
        aria-label={say("Skeleton from above, the bird's left on the left")}
        viewBox={`${PLATE.left} ${PLATE.top} ${PLATE.width} ${PLATE.height}`}
        onKeyDown={handleKey}
        onClick={handleClick}
        onFocus={(event: FocusEvent<SVGSVGElement>) => setActiveKey(keyAt(event.target))}
        onMouseOver={(event) => setHoveredKey(keyAt(event.target))}
        onMouseLeave={() => setHoveredKey(null)}
      >
        <defs>
          <HatchDefs prefix={prefix} />
        </defs>
        <Captions />
        {MARK_GROUPS.map((group) => {
          const own = marks.filter((mark) => mark.group === group);
          const stop =
            own.find((mark) => mark.key === activeKey) ??
            own.find((mark) => mark.key === selectedKey) ??
            own[0];
          return (
            // biome-ignore lint/a11y/useSemanticElements: a fieldset cannot stand inside a drawing
            // biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: a plain g is not interactive
            <g key={group} role="group" aria-label={GROUP_LABELS[group].label}>
              {own.map((mark) => (
                <BoneMarkView
                  key={mark.key}
                  mark={mark}
                  prefix={prefix}
                  selected={mark.key === selectedKey}
                  tabbable={mark === stop}
                />
              ))}
            </g>
          );
        })}
        <PlateText mark={find(hoveredKey ?? activeKey ?? selectedKey)} />
      </svg>
    </div>
  );
}
