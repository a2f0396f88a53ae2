export { readAnchors, writeAnchors } from './anchors';
export { findEventKeys } from './repo';
export { chainHead, listHistory, verifyAllChains, verifyChain, verifyOwnChain } from './service';
