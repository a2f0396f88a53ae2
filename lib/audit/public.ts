export { readAnchors, writeAnchors } from './anchors';
export { notePlaceLook } from './looks';
export { findEventKeys } from './repo';
export { chainHead, listHistory, verifyAllChains, verifyChain, verifyOwnChain } from './service';
