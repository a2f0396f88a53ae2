export { loadRulePack, plainFacts, RulePackError, shippedRulePacks } from './packs/load';
export * from './public-rules';
export { type CoverageSources, ensureShippedPacks, loadCoverageSources } from './service/law';
export { amendPermit, createPermit, listPermits, renewPermit, showPermit } from './service/permits';
export { confirmRule, loadPack } from './service/rule-packs';
export { decideStatus, importStatusList } from './service/status-lists';
