//! The QuickTime file (.mov) around samples of the Animation compression, after Apple's QuickTime File Format: one video
//! track with straight alpha, its colour tagged, its clock exact. Must not know how a sample is compressed.

use std::io::{self, Seek, SeekFrom, Write};

use super::animation::Encoder;
use super::atoms::Atoms;
use super::{Film, FilmError, Spec};
use crate::draw::{PixelBox, Raster};

/// A .mov being written: samples as they come, their table at the end. Nothing of it is a film before it is finished.
pub struct QuickTime<W> {
    out: W,
    spec: Spec,
    /// Frames from one key frame to the next; `None` for the first alone.
    keys: Option<u32>,
    encoder: Encoder,
    sample: Vec<u8>,
    sizes: Vec<u32>,
    key_frames: Vec<u32>,
}

/// Where samples begin: after `ftyp` (20 bytes) and the header of `mdat` with its long length (16).
const DATA: u64 = 36;

impl<W: Write + Seek> QuickTime<W> {
    /// Begins a film; its first frame is a key frame, and so is every `keys`th after it.
    ///
    /// # Errors
    /// What can't be written; a film that is longer than its clock counts.
    pub fn new(mut out: W, spec: Spec, keys: Option<u32>) -> Result<Self, FilmError> {
        if spec.frames.checked_mul(spec.pace.frame).is_none() {
            return Err(io::Error::other("it is longer than the clock of such a file counts: shorten its cue").into());
        }
        let mut head = Atoms::default();
        head.atom(b"ftyp", |atom| {
            atom.raw(b"qt  ");
            atom.u32(0);
            atom.raw(b"qt  ");
        });
        // A length of 1 says that the long one behind the letters holds; it is filled in at the end.
        head.u32(1);
        head.raw(b"mdat");
        head.u64(0);
        out.write_all(&head.into_bytes())?;
        let encoder = Encoder::new(spec.width, spec.height);
        let keys = keys.filter(|&every| every > 0);
        Ok(Self { out, spec, keys, encoder, sample: Vec::new(), sizes: Vec::new(), key_frames: Vec::new() })
    }

    /// Ends the film and gives back what it was written to.
    ///
    /// # Errors
    /// Fewer frames than promised, or what can't be written.
    pub fn finish(mut self) -> Result<W, FilmError> {
        self.spec.complete(self.taken())?;
        let data: u64 = self.sizes.iter().map(|&size| u64::from(size)).sum();
        let table = self.table();
        self.out.write_all(&table)?;
        self.out.seek(SeekFrom::Start(DATA - 8))?;
        self.out.write_all(&(data + 16).to_be_bytes())?;
        self.out.seek(SeekFrom::End(0))?;
        self.out.flush()?;
        Ok(self.out)
    }

    fn taken(&self) -> u32 {
        self.sizes.len() as u32
    }

    fn table(&self) -> Vec<u8> {
        let Spec { width, height, pace, frames } = self.spec;
        let duration = frames * pace.frame;
        let mut atoms = Atoms::default();
        atoms.atom(b"moov", |moov| {
            // Times are zero: the same film has the same bytes on any day.
            moov.full(b"mvhd", 0, |atom| {
                atom.zeros(8);
                atom.u32(pace.scale);
                atom.u32(duration);
                atom.u32(0x0001_0000);
                atom.u16(0x0100);
                atom.zeros(10);
                atom.matrix();
                atom.zeros(24);
                atom.u32(2);
            });
            moov.atom(b"trak", |trak| {
                // Enabled, in the movie, its preview and its poster.
                trak.full(b"tkhd", 0xf, |atom| {
                    atom.zeros(8);
                    atom.u32(1);
                    atom.zeros(4);
                    atom.u32(duration);
                    atom.zeros(8);
                    atom.zeros(8);
                    atom.matrix();
                    atom.u32(width << 16);
                    atom.u32(height << 16);
                });
                trak.atom(b"edts", |edts| {
                    edts.full(b"elst", 0, |atom| {
                        atom.u32(1);
                        atom.u32(duration);
                        atom.u32(0);
                        atom.u32(0x0001_0000);
                    });
                });
                trak.atom(b"mdia", |mdia| self.media(mdia, duration));
            });
        });
        atoms.into_bytes()
    }

    fn media(&self, mdia: &mut Atoms, duration: u32) {
        mdia.full(b"mdhd", 0, |atom| {
            atom.zeros(8);
            atom.u32(self.spec.pace.scale);
            atom.u32(duration);
            // Language: unspecified; quality: normal.
            atom.u16(0x7fff);
            atom.u16(0);
        });
        handler(mdia, b"mhlr", b"vide", "video");
        mdia.atom(b"minf", |minf| {
            minf.full(b"vmhd", 1, |atom| {
                // Graphics mode 0x100: alpha that is straight.
                atom.u16(0x0100);
                [0x8000; 3].into_iter().for_each(|colour| atom.u16(colour));
            });
            handler(minf, b"dhlr", b"alis", "data");
            minf.atom(b"dinf", |dinf| {
                dinf.full(b"dref", 0, |dref| {
                    dref.u32(1);
                    // The samples are in this file.
                    dref.full(b"alis", 1, |_| {});
                });
            });
            minf.atom(b"stbl", |stbl| self.samples(stbl));
        });
    }

    fn samples(&self, stbl: &mut Atoms) {
        let Spec { width, height, pace, frames } = self.spec;
        stbl.full(b"stsd", 0, |stsd| {
            stsd.u32(1);
            stsd.atom(b"rle ", |entry| description(entry, width, height));
        });
        stbl.full(b"stts", 0, |atom| [1, frames, pace.frame].into_iter().for_each(|number| atom.u32(number)));
        // Without this table every frame would be a key frame.
        if self.key_frames.len() < self.sizes.len() {
            stbl.full(b"stss", 0, |atom| {
                atom.u32(self.key_frames.len() as u32);
                self.key_frames.iter().for_each(|&key| atom.u32(key));
            });
        }
        let chunk = (pace.scale / pace.frame).max(1);
        let (full, rest) = (frames / chunk, frames % chunk);
        let mut runs = Vec::new();
        if full > 0 {
            runs.push([1, chunk, 1]);
        }
        if rest > 0 {
            runs.push([full + 1, rest, 1]);
        }
        stbl.full(b"stsc", 0, |atom| {
            atom.u32(runs.len() as u32);
            runs.iter().flatten().for_each(|&number| atom.u32(number));
        });
        stbl.full(b"stsz", 0, |atom| {
            atom.u32(0);
            atom.u32(frames);
            self.sizes.iter().for_each(|&size| atom.u32(size));
        });
        let mut at = DATA;
        let offsets: Vec<u64> = self
            .sizes
            .chunks(chunk as usize)
            .map(|sizes| {
                let start = at;
                at += sizes.iter().map(|&size| u64::from(size)).sum::<u64>();
                start
            })
            .collect();
        let long = offsets.last().is_some_and(|&last| last > u64::from(u32::MAX));
        stbl.full(if long { b"co64" } else { b"stco" }, 0, |atom| {
            atom.u32(offsets.len() as u32);
            offsets.iter().for_each(|&at| if long { atom.u64(at) } else { atom.u32(at as u32) });
        });
    }
}

/// What the samples are: Animation at its lossless quality, 32 bits, one field, square pixels, Rec. 709.
fn description(entry: &mut Atoms, width: u32, height: u32) {
    entry.zeros(6);
    entry.u16(1);
    entry.zeros(4);
    entry.zeros(4);
    // Quality in time and in space.
    entry.u32(0x400);
    entry.u32(0x400);
    entry.u16(width as u16);
    entry.u16(height as u16);
    entry.u32(72 << 16);
    entry.u32(72 << 16);
    entry.u32(0);
    entry.u16(1);
    entry.pascal("Animation", 32);
    entry.u16(32);
    entry.u16(0xffff);
    // Primaries, transfer function and matrix of ITU-R BT.709, whose primaries are sRGB's.
    entry.atom(b"colr", |atom| {
        atom.raw(b"nclc");
        [1; 3].into_iter().for_each(|index| atom.u16(index));
    });
    entry.atom(b"fiel", |atom| atom.raw(&[1, 0]));
    entry.atom(b"pasp", |atom| [1, 1].into_iter().for_each(|side| atom.u32(side)));
}

fn handler(parent: &mut Atoms, kind: &[u8; 4], of: &[u8; 4], name: &str) {
    parent.full(b"hdlr", 0, |atom| {
        atom.raw(kind);
        atom.raw(of);
        atom.zeros(12);
        atom.pascal(name, name.len() + 1);
    });
}

impl<W: Write + Seek> Film for QuickTime<W> {
    fn frame(&mut self, picture: &Raster, changed: &[PixelBox]) -> Result<(), FilmError> {
        self.spec.admit(picture, self.taken())?;
        let key = self.keys.map_or(self.sizes.is_empty(), |every| self.taken().is_multiple_of(every));
        self.encoder.sample(picture, changed, key, &mut self.sample);
        self.out.write_all(&self.sample)?;
        self.sizes.push(self.sample.len() as u32);
        if key {
            self.key_frames.push(self.taken());
        }
        Ok(())
    }
}
