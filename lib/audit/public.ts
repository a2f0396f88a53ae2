export { chainHead, listHistory, verifyAllChains, verifyChain, verifyOwnChain } from './service';
