// The atlases are megabytes of JSON: declared here so that the compiler does not infer a type for each polygon.
declare module 'us-atlas/counties-10m.json' {
  import type { GeometryCollection, Topology } from 'topojson-specification';

  const topology: Topology<{
    counties: GeometryCollection<{ name: string }>;
    states: GeometryCollection<{ name: string }>;
  }>;
  export default topology;
}

declare module 'us-atlas/states-10m.json' {
  import type { GeometryCollection, Topology } from 'topojson-specification';

  const topology: Topology<{
    states: GeometryCollection<{ name: string }>;
    nation: GeometryCollection;
  }>;
  export default topology;
}

declare module 'world-atlas/countries-110m.json' {
  import type { GeometryCollection, Topology } from 'topojson-specification';

  const topology: Topology<{ countries: GeometryCollection<{ name: string }> }>;
  export default topology;
}
