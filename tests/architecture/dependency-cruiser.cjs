/**
 * Import boundaries, generated from one list of tiers (low to high). A stage imports lower tiers only, and only their
 * public.ts; the platform and the audit trail know no stage; components know a stage's words and rules, never its
 * database.
 */
const TIERS = [
  ['audit', 'people', 'notices'],
  ['taxa', 'places', 'storage', 'attachments'],
  ['permits'],
  ['salvage'],
  ['accessions'],
  ['queue'],
  ['bench'],
  ['tissues', 'skeletons', 'skins'],
  ['catalogue'],
  ['loans'],
  ['labels', 'exchange', 'reports'],
  ['desk'],
];
const stages = TIERS.flat();
const any = (names) => `(${names.join('|')})`;

const tierRules = TIERS.map((tier, index) => ({
  name: `tier-${index + 1}-imports-lower-only`,
  comment: `${tier.join(', ')} may import lower tiers and themselves, never ${TIERS.slice(index + 1)
    .flat()
    .join(', ')}.`,
  severity: 'error',
  from: { path: `^lib/${any(tier)}/` },
  to: {
    path: `^lib/${any(
      TIERS.slice(index + 1)
        .flat()
        .concat('$'),
    )}/`,
  },
})).slice(0, -1);

const siblingRules = stages.map((stage) => ({
  name: `${stage}-through-public-only`,
  comment: `Other stages use ${stage} through lib/${stage}/public.ts (or its pure half, public-rules.ts).`,
  severity: 'error',
  from: { path: `^lib/${any(stages.filter((other) => other !== stage))}/` },
  to: { path: `^lib/${stage}/`, pathNot: `^lib/${stage}/(public|public-rules|schema)\\.ts$` },
}));

module.exports = {
  forbidden: [
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    ...tierRules,
    ...siblingRules,
    {
      name: 'platform-knows-no-stage',
      severity: 'error',
      from: { path: '^lib/platform/' },
      to: { path: `^(lib/${any(stages)}|app|components)/` },
    },
    {
      name: 'components-stay-in-the-browser',
      comment:
        'Components import schema, rules, policy and pure data; never repo, service, jobs or the database.',
      severity: 'error',
      from: { path: '^components/' },
      to: {
        path: '^lib/.*/(repo|service|jobs|db|tx|http|session|public)(\\.|/)|^lib/platform/generated|^lib/ops|^app/',
      },
    },
    {
      name: 'one-link',
      comment:
        'Links are those of components/ui/link.tsx: they ask for a page when they are meant, not when in sight.',
      severity: 'error',
      from: { path: '^(app|components)/', pathNot: '^components/ui/link\\.tsx$' },
      to: { path: 'node_modules/next/link\\.js$' },
    },
    {
      name: 'ui-knows-no-stage',
      severity: 'error',
      from: { path: '^components/ui/' },
      to: { path: `^(lib/${any(stages)}/|components/(?!ui/))` },
    },
    {
      name: 'only-repo-touches-the-client',
      comment: 'Prisma is reached through repo.ts (and the platform); services pass the transaction on.',
      severity: 'error',
      from: { path: '^(lib|app|components)/', pathNot: '^lib/(platform|ops)/|/repo(\\.ts|/)' },
      to: { path: '^lib/platform/generated' },
    },
    {
      name: 'rules-are-pure',
      comment: 'rules, policy and schema use no database, clock or network.',
      severity: 'error',
      from: { path: '^lib/[^/]+/(rules|policy|schema)(\\.ts|/)' },
      to: { path: '^lib/.*/(repo|service|db|tx|clock|http)\\.ts$|^lib/platform/generated' },
    },
    {
      name: 'lib-knows-no-screen',
      severity: 'error',
      from: { path: '^lib/', pathNot: '^lib/platform/page\\.tsx$' },
      to: { path: '^(app|components)/' },
    },
    {
      name: 'nothing-from-tests-or-seed',
      severity: 'error',
      from: { path: '^(app|components|lib)/', pathNot: '^lib/ops/' },
      to: { path: '^(tests|seed)/' },
    },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: false,
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^lib/platform/generated/.+/internal' },
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.mjs', '.js', '.json'] },
  },
};
