import { memo } from 'react';
import styles from './bone-plate.module.css';
import { halfPlane } from './geometry/shape';
import { hatchId } from './hatches';
import type { BoneMark } from './marks';

interface BoneMarkViewProps {
  mark: BoneMark;
  /** Prefix of the picture's ids. */
  prefix: string;
  selected: boolean;
  tabbable: boolean;
}

/** A crack across the middle of a broken bone. */
function Fracture({ at: [x, y] }: { at: BoneMark['centre'] }) {
  return <path className={styles.fracture} d={`M${x - 9} ${y + 4}l5 -9l5 9l4 -9l5 9`} />;
}

/** The sign on a bone that is nowhere or in two places. */
function ProblemSign({ at: [x, y] }: { at: BoneMark['centre'] }) {
  return (
    <g className={styles.problem} transform={`translate(${x} ${y})`}>
      <circle className={styles.problemDisc} r="7" />
      <path className={styles.problemSign} d="M0 -3.4V0.8M0 3.4V3.5" />
    </g>
  );
}

/** The clip paths of a portion: its half of the plate, and the bone itself for the line of the cut. */
function ClipDefs({ mark, id }: { mark: BoneMark; id: string }) {
  const { cut, outline } = mark.shape;
  if (!cut || mark.portion === 'whole') return null;
  return (
    <defs>
      <clipPath id={`${id}-half`}>
        <polygon points={halfPlane(cut, mark.portion)} />
      </clipPath>
      <clipPath id={`${id}-bone`}>
        <path d={outline} />
      </clipPath>
    </defs>
  );
}

/** Marks are made anew with every change of the book; only those that look different are drawn again. */
const looksTheSame = (before: BoneMarkViewProps, after: BoneMarkViewProps): boolean =>
  before.mark.label === after.mark.label &&
  before.mark.key === after.mark.key &&
  before.mark.hasProblem === after.mark.hasProblem &&
  before.mark.entry.place === after.mark.entry.place &&
  before.mark.entry.state === after.mark.entry.state &&
  before.prefix === after.prefix &&
  before.selected === after.selected &&
  before.tabbable === after.tabbable;

/** One element or portion of the plate; events are heard by the plate. */
export const BoneMarkView = memo(function BoneMarkView({
  mark,
  prefix,
  selected,
  tabbable,
}: BoneMarkViewProps) {
  const { entry, shape } = mark;
  const id = `${prefix}-${mark.element}-${mark.side}-${mark.portion}`;
  const rule = shape.hollow ? 'evenodd' : 'nonzero';
  const shown = entry.place ?? (entry.state === 'missing' ? 'missing' : 'undecided');
  const half = mark.portion !== 'whole' && shape.cut !== null;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button element cannot be a shape inside a drawing
    <g
      className={styles.bone}
      role="button"
      tabIndex={tabbable ? 0 : -1}
      aria-label={mark.label}
      aria-pressed={selected}
      data-key={mark.key}
      data-problem={mark.hasProblem || undefined}
      data-place={shown}
    >
      <ClipDefs mark={mark} id={id} />
      <g clipPath={half ? `url(#${id}-half)` : undefined} data-place={shown}>
        <path className={styles.halo} d={shape.outline} />
        <path className={styles.fill} d={shape.outline} fillRule={rule} />
        {entry.place && (
          <path d={shape.outline} fillRule={rule} fill={`url(#${hatchId(prefix, entry.place)})`} />
        )}
        {shape.detail && <path className={styles.detail} d={shape.detail} />}
        <path className={styles.outline} d={shape.outline} />
        {half && shape.cut && (
          <path
            className={styles.cut}
            d={`M${shape.cut[0]} ${shape.cut[1]}L${shape.cut[2]} ${shape.cut[3]}`}
            clipPath={`url(#${id}-bone)`}
          />
        )}
      </g>
      {entry.state === 'broken' && <Fracture at={mark.centre} />}
      {mark.hasProblem && <ProblemSign at={mark.centre} />}
    </g>
  );
}, looksTheSame);
