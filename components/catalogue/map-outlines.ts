import { queryOptions } from '@tanstack/react-query';
import { feature, mesh } from 'topojson-client';
import { piecesOf } from './map-paths';

const UNITED_STATES = '840';

/** Outlines never change: fetched once, when a map is first looked at. */
const kept = { staleTime: Number.POSITIVE_INFINITY, structuralSharing: false } as const;

/** Land and borders of countries (Natural Earth) and of the United States and its states (Census Bureau). */
export const outlinesOptions = () =>
  queryOptions({
    queryKey: ['outlines', 'countries'],
    queryFn: async () => {
      const [{ default: world }, { default: us }] = await Promise.all([
        import('world-atlas/countries-110m.json'),
        import('us-atlas/states-10m.json'),
      ]);
      const { features } = feature(world, world.objects.countries);
      return {
        land: [
          // The finer outline of the United States stands in for the coarse one.
          ...features.filter(({ id }) => String(id) !== UNITED_STATES),
          ...feature(us, us.objects.nation).features,
        ].flatMap(({ geometry }) => piecesOf(geometry)),
        states: piecesOf(mesh(us, us.objects.states, (a, b) => a !== b)),
      };
    },
    ...kept,
  });

/** Borders of the counties of the United States: large, for closer looks only. */
export const countiesOptions = (enabled: boolean) =>
  queryOptions({
    queryKey: ['outlines', 'counties'],
    queryFn: async () => {
      const { default: us } = await import('us-atlas/counties-10m.json');
      return piecesOf(mesh(us, us.objects.counties, (a, b) => a !== b));
    },
    enabled,
    ...kept,
  });
