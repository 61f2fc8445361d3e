//! The files of a book, in order. Replacing one copies a few hundred pointers, however many there are.

use std::sync::Arc;

use rayon::prelude::*;

use super::files::SourceFile;

/// Files on one board.
const WIDTH: usize = 128;

/// All boards but the last are full.
#[derive(Clone, Debug, Default)]
pub(super) struct Shelf {
    boards: Vec<Arc<Vec<Arc<SourceFile>>>>,
}

impl Shelf {
    pub fn of(files: Vec<Arc<SourceFile>>) -> Self {
        Self { boards: files.chunks(WIDTH).map(|files| Arc::new(files.to_vec())).collect() }
    }

    pub fn len(&self) -> usize {
        self.boards.last().map_or(0, |last| (self.boards.len() - 1) * WIDTH + last.len())
    }

    /// The n-th file.
    pub fn get(&self, n: usize) -> &Arc<SourceFile> {
        &self.boards[n / WIDTH][n % WIDTH]
    }

    pub fn iter(&self) -> impl Iterator<Item = &Arc<SourceFile>> {
        self.boards.iter().flat_map(|board| board.iter())
    }

    /// Where the file of a path is, else where it would have to be put in. The files are in the order of their paths.
    pub fn position(&self, path: &str) -> Result<usize, usize> {
        let board = self.boards.partition_point(|board| *board[0].path <= *path).saturating_sub(1);
        let files = self.boards.get(board).map_or(&[][..], |board| board);
        let within = files.binary_search_by(|file| (*file.path).cmp(path));
        within.map(|at| board * WIDTH + at).map_err(|at| board * WIDTH + at)
    }

    /// Puts a file in the place of the n-th.
    pub fn replace(&mut self, n: usize, file: Arc<SourceFile>) {
        Arc::make_mut(&mut self.boards[n / WIDTH])[n % WIDTH] = file;
    }

    pub fn insert(&mut self, n: usize, file: Arc<SourceFile>) {
        let mut files = self.to_vec();
        files.insert(n, file);
        *self = Self::of(files);
    }

    /// Lets go of all files, on as many threads as read them.
    pub fn finish(self) {
        let boards = self.boards.into_par_iter();
        boards.filter_map(Arc::into_inner).for_each(|files| files.into_par_iter().for_each(drop));
    }

    fn to_vec(&self) -> Vec<Arc<SourceFile>> {
        self.iter().cloned().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(n: usize) -> Arc<SourceFile> {
        Arc::new(SourceFile::read(format!("{n:04}.rotor"), ""))
    }

    #[test]
    fn files_are_found_wherever_they_stand() {
        for count in [0, 1, WIDTH - 1, WIDTH, WIDTH + 1, 3 * WIDTH] {
            let mut shelf = Shelf::of((0..count).map(|n| file(2 * n)).collect());
            assert_eq!(shelf.len(), count);
            for n in 0..count {
                assert_eq!(shelf.position(&format!("{:04}.rotor", 2 * n)), Ok(n));
                assert_eq!(shelf.position(&format!("{:04}.rotor", 2 * n + 1)), Err(n + 1));
            }
            shelf.insert(count / 2, file((2 * (count / 2)).max(1) - 1));
            assert_eq!(shelf.len(), count + 1);
            assert!(shelf.iter().map(|file| &file.path).is_sorted());
        }
    }
}
