export { boneBookVerdict, loadBoneBook, type StoredBook } from './book';
