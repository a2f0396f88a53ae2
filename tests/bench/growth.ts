import type { Line, Report } from './table';

/** An act's median time in each size, in ms, and how much longer it takes in the largest than in the smallest. */
export type Growth = Pick<Line, 'act' | 'kind' | 'isKeyed' | 'users'> & {
  p50: { materials: number; ms: number }[];
  times: number;
};

/** Of each act and number of users measured without a pause in every size; needs two sizes. */
export function growthOf(reports: readonly Report[]): Growth[] {
  const sizes = [...reports].sort((a, b) => a.materials - b.materials);
  const [smallest, ...others] = sizes;
  if (smallest === undefined || others.length === 0) return [];
  return smallest.lines.flatMap((line) => {
    const { act, kind, isKeyed, users, pauseMs } = line;
    const p50 = sizes.flatMap(({ materials, lines }) => {
      const same = lines.find((one) => one.act === act && one.users === users && one.pauseMs === 0);
      return same === undefined ? [] : [{ materials, ms: same.http.p50 }];
    });
    const [first, last] = [p50[0], p50.at(-1)];
    if (pauseMs > 0 || p50.length < sizes.length || first === undefined || last === undefined) return [];
    return [{ act, kind, isKeyed, users, p50, times: last.ms / first.ms }];
  });
}
