// @vitest-environment jsdom
import { screen, within } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { drawRail, LANES_PX, ROW_PX } from '@/components/shell/rail-geometry';
import { LifeLine } from '@/components/ui/life-line';
import {
  type LifeBranch,
  type LifeStage,
  layOutLifeLine,
  sayLifeLine,
} from '@/components/ui/life-line-layout';
import { show } from './render';

const stages: LifeStage[] = [
  { id: 'found', label: 'Found', state: 'done', at: '2026-03-05', by: 'J. Okoro', href: '/salvage/1' },
  { id: 'bench', label: 'Prepared', state: 'done', at: '2026-03-11' },
];
const branches: LifeBranch[] = [
  {
    id: 'skin',
    kind: 'Skin',
    label: 'S-1-s',
    href: '/skins/1',
    stages: [
      { id: 'pinned', label: 'Pinned', state: 'done' },
      { id: 'drying', label: 'Drying', state: 'current' },
      { id: 'dry', label: 'Dry', state: 'waiting' },
    ],
  },
  {
    id: 'vial',
    kind: 'Vial',
    label: 'S-1-t1',
    stages: [{ id: 'filled', label: 'Filled', state: 'waiting' }],
  },
];

describe('layOutLifeLine', () => {
  test('without materials it is one straight line, a column a stage', () => {
    const layout = layOutLifeLine(stages, []);
    expect(layout.columns).toBe(2);
    expect(layout.segments).toEqual([{ d: `M0 ${layout.trunkY}H1`, ahead: false }]);
  });

  test('the trunk meets the middle of its branches', () => {
    const layout = layOutLifeLine(stages, branches);
    expect(layout.branchY).toHaveLength(2);
    expect(layout.trunkY).toBe(((layout.branchY[0] ?? 0) + (layout.branchY[1] ?? 0)) / 2);
  });

  test('what has not happened is drawn as ahead', () => {
    const ahead = layOutLifeLine(stages, branches).segments.map((segment) => segment.ahead);
    // trunk, run-on to the fork, arm of the skin, pinned–drying, drying–dry, arm of the vial
    expect(ahead).toEqual([false, false, false, false, true, true]);
  });

  test('an empty life has one column, so that nothing divides by nothing', () => {
    expect(layOutLifeLine([], []).columns).toBe(1);
  });

  test('the sentence says where the bird and each material are', () => {
    expect(sayLifeLine(stages, branches)).toBe('Prepared: done. Skin S-1-s: drying. Vial S-1-t1: not begun.');
    expect(sayLifeLine([], [])).toBe('Nothing has happened yet.');
  });
});

describe('LifeLine', () => {
  test('the list holds every stage in order with its state, date, person and link', () => {
    show(<LifeLine stages={stages} branches={branches} label="Life line of S-1" />);
    const figure = screen.getByRole('figure', { name: 'Life line of S-1' });
    const trunk = within(figure).getAllByRole('list')[0];
    if (!trunk) throw new Error('no list');
    expect(
      within(trunk)
        .getAllByRole('listitem')
        .map((item) => item.textContent),
    ).toEqual(['Found, done5 Mar 2026J. Okoro', 'Prepared, done11 Mar 2026']);
    expect(within(figure).getByRole('link', { name: 'Found' }).getAttribute('href')).toBe('/salvage/1');
    expect(within(figure).getByText('Drying').closest('li')?.textContent).toBe('Drying, now here');
    expect(within(figure).getByRole('link', { name: 'S-1-s' }).getAttribute('href')).toBe('/skins/1');
  });
});

describe('drawRail', () => {
  const forked = new Set(['tissues', 'skeletons', 'skins']);

  test('materials lie on lanes of their own, all else on the trunk, one row each', () => {
    const { dots, height } = drawRail(['bench', 'tissues', 'skeletons', 'skins', 'catalogue'], forked);
    expect(dots.map((dot) => dot.x)).toEqual([
      LANES_PX.trunk,
      LANES_PX.left,
      LANES_PX.trunk,
      LANES_PX.right,
      LANES_PX.trunk,
    ]);
    expect(dots.map((dot) => dot.y - ROW_PX / 2)).toEqual([0, 40, 80, 120, 160]);
    expect(height).toBe(200);
  });

  test('a person who sees few stages gets a line that ends where it should', () => {
    expect(drawRail(['catalogue'], forked).paths).toEqual([]);
    expect(drawRail(['queue', 'bench'], forked).paths).toEqual(['M24 20L24 60']);
    expect(drawRail(['tissues'], forked).paths).toEqual(['M24 20L24 20']);
    expect(drawRail(['bench', 'skins', 'catalogue', 'loans'], forked).paths).toEqual([
      'M24 20C24 38 24 32 24 60L24 60C24 88 24 82 24 100',
      'M24 100L24 140',
    ]);
  });
});
