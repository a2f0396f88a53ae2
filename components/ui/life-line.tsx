import type { CSSProperties } from 'react';
import { Link } from '@/components/ui/link';
import { say } from '@/lib/platform/words/say';
import classes from './life-line.module.css';
import {
  isAhead,
  type LifeBranch,
  type LifeStage,
  type LifeState,
  layOutLifeLine,
  sayLifeLine,
  sayLifeState,
} from './life-line-layout';
import { Moment } from './moment';

function Dot({ state }: { state: LifeState }) {
  return (
    <svg
      className={classes.dot}
      width="20"
      height="20"
      viewBox="0 0 20 20"
      aria-hidden="true"
      focusable="false"
    >
      {state === 'current' && <circle cx="10" cy="10" r="8.5" className={classes.ring} />}
      {state === 'stopped' ? (
        <>
          <rect x="4" y="4" width="12" height="12" />
          <path d="M7.5 7.5L12.5 12.5M12.5 7.5L7.5 12.5" />
        </>
      ) : (
        <circle cx="10" cy="10" r={state === 'waiting' ? 4.25 : 5} />
      )}
    </svg>
  );
}

function Stage({ stage, x, y, column }: { stage: LifeStage; x: number; y: number; column: number }) {
  const place = { '--x': `${x * column}%`, '--y': `${y}px`, '--w': `${column}%` } as CSSProperties;
  return (
    <li className={classes.stage} data-state={stage.state} style={place}>
      <Dot state={stage.state} />
      <span className={classes.words}>
        {stage.href ? (
          <Link href={stage.href} className={classes.label}>
            {stage.label}
          </Link>
        ) : (
          <span className={classes.label}>{stage.label}</span>
        )}
        <span className="f-hidden">, {sayLifeState(stage.state)}</span>
        {(stage.at || stage.by) && (
          <span className={classes.when}>
            {stage.at && <Moment at={stage.at} />}
            {stage.by && <span className={classes.by}>{stage.by}</span>}
          </span>
        )}
      </span>
    </li>
  );
}

/**
 * The life of one bird: a dot a stage on one line, forking where the carcass becomes materials. The drawing carries
 * the line, an ordered list of the same content carries the words and the links. Runs down where there is no width.
 */
export function LifeLine({
  stages,
  branches = [],
  label = say('Life line'),
}: {
  stages: readonly LifeStage[];
  branches?: readonly LifeBranch[];
  label?: string;
}) {
  const layout = layOutLifeLine(stages, branches);
  const column = 100 / layout.columns;
  return (
    <figure
      className={classes.figure}
      aria-label={label}
      style={{ '--columns': layout.columns, '--height': `${layout.heightPx}px` } as CSSProperties}
    >
      <figcaption className="f-hidden">{sayLifeLine(stages, branches)}</figcaption>
      <div className={classes.measure}>
        <div className={classes.line}>
          <svg
            className={classes.drawing}
            viewBox={`0 0 ${layout.columns} ${layout.heightPx}`}
            preserveAspectRatio="none"
            aria-hidden="true"
            focusable="false"
          >
            {layout.segments.map((segment) => (
              <path key={segment.d} d={segment.d} data-ahead={segment.ahead || undefined} />
            ))}
          </svg>
          <ol className={classes.trunk}>
            {stages.map((stage, index) => (
              <Stage key={stage.id} stage={stage} x={index} y={layout.trunkY} column={column} />
            ))}
          </ol>
          {branches.length > 0 && (
            <ul className={classes.branches}>
              {branches.map((branch, row) => (
                <Branch
                  key={branch.id}
                  branch={branch}
                  x={layout.forkX}
                  y={layout.branchY[row] ?? layout.trunkY}
                  column={column}
                />
              ))}
            </ul>
          )}
        </div>
      </div>
    </figure>
  );
}

function Branch({ branch, x, y, column }: { branch: LifeBranch; x: number; y: number; column: number }) {
  const place = { '--x': `${x * column}%`, '--y': `${y}px` } as CSSProperties;
  return (
    <li className={classes.branch} data-ahead={isAhead(branch.stages[0]) || undefined}>
      <svg
        className={classes.arm}
        width="24"
        height="24"
        viewBox="0 0 24 24"
        aria-hidden="true"
        focusable="false"
      >
        <path d="M2 0C2 14 8 13 24 13" />
      </svg>
      <p className={classes.name} style={place}>
        <span className={classes.kind}>{branch.kind}</span>{' '}
        {branch.href ? <Link href={branch.href}>{branch.label}</Link> : branch.label}
      </p>
      <ol>
        {branch.stages.map((stage, index) => (
          <Stage key={stage.id} stage={stage} x={x + index} y={y} column={column} />
        ))}
      </ol>
    </li>
  );
}
