'use client';

import { Link } from '@/components/ui/link';
import { say } from '@/lib/platform/words/say';
import classes from './life-rail.module.css';
import { drawRail } from './rail-geometry';

export type RailStage = {
  id: string;
  label: string;
  href: string;
  /** How many things wait here for this person's eyes; null or 0 shows nothing. */
  waiting?: number | null;
};

/** Where the carcass becomes materials, the line forks. */
const MATERIAL_STAGES: ReadonlySet<string> = new Set(['tissues', 'skeletons', 'skins']);

/** Whether `path` lies at or under `href`; '/' only matches itself. */
export function isAt(path: string, href: string): boolean {
  return path === href || (href !== '/' && path.startsWith(`${href}/`));
}

/** The stages of a bird's life as the navigation: a dot each, on one line that forks like the wishbone. */
export function LifeRail({
  stages,
  path,
  onNavigate,
}: {
  stages: readonly RailStage[];
  path: string;
  onNavigate?: () => void;
}) {
  const drawing = drawRail(
    stages.map((stage) => stage.id),
    MATERIAL_STAGES,
  );
  return (
    <div className={classes.rail}>
      <svg
        className={classes.line}
        width={48}
        height={drawing.height}
        viewBox={`0 0 48 ${drawing.height}`}
        aria-hidden="true"
        focusable="false"
      >
        {drawing.paths.map((d) => (
          <path key={d} d={d} />
        ))}
        {drawing.dots.map((dot, index) => {
          const stage = stages[index];
          const current = stage !== undefined && isAt(path, stage.href);
          return (
            <g
              key={dot.id}
              data-current={current || undefined}
              data-waits={(stage?.waiting ?? 0) > 0 || undefined}
            >
              {current && <circle className={classes.ring} cx={dot.x} cy={dot.y} r={8} />}
              <circle className={classes.dot} cx={dot.x} cy={dot.y} r={current ? 4.5 : 4} />
            </g>
          );
        })}
      </svg>
      <ol className={classes.stages}>
        {stages.map((stage) => (
          <li key={stage.id}>
            <Link
              className={classes.stage}
              href={stage.href}
              aria-current={isAt(path, stage.href) ? 'page' : undefined}
              onClick={onNavigate}
            >
              <span>{stage.label}</span>
              {(stage.waiting ?? 0) > 0 && (
                <span className={classes.waiting}>
                  {stage.waiting}
                  <span className="f-hidden">{say(' waiting')}</span>
                </span>
              )}
            </Link>
          </li>
        ))}
      </ol>
    </div>
  );
}
