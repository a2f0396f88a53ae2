export { stageOf } from './rules';
export { findQuickly, searchCatalogue } from './service/search';
