export { readAnchors, writeAnchors } from './anchors';
export { chainHead, listHistory, verifyAllChains, verifyChain, verifyOwnChain } from './service';
