//! Atoms, the boxes that a QuickTime file is made of: a length, four letters, and what is in it.
//! Must not know which atoms a film needs.

/// Bytes of nested atoms, big-endian.
#[derive(Default)]
pub(super) struct Atoms {
    bytes: Vec<u8>,
}

impl Atoms {
    /// An atom, its contents written by `fill`.
    pub(super) fn atom(&mut self, kind: &[u8; 4], fill: impl FnOnce(&mut Self)) {
        let start = self.bytes.len();
        self.u32(0);
        self.raw(kind);
        fill(self);
        let length = (self.bytes.len() - start) as u32;
        self.bytes[start..start + 4].copy_from_slice(&length.to_be_bytes());
    }

    /// An atom that begins with its version, 0, and its flags.
    pub(super) fn full(&mut self, kind: &[u8; 4], flags: u32, fill: impl FnOnce(&mut Self)) {
        self.atom(kind, |atom| {
            atom.u32(flags);
            fill(atom);
        });
    }

    pub(super) fn raw(&mut self, bytes: &[u8]) {
        self.bytes.extend_from_slice(bytes);
    }

    pub(super) fn u16(&mut self, number: u16) {
        self.raw(&number.to_be_bytes());
    }

    pub(super) fn u32(&mut self, number: u32) {
        self.raw(&number.to_be_bytes());
    }

    pub(super) fn u64(&mut self, number: u64) {
        self.raw(&number.to_be_bytes());
    }

    pub(super) fn zeros(&mut self, count: usize) {
        self.bytes.resize(self.bytes.len() + count, 0);
    }

    /// A text behind its length, in a field of `room` bytes.
    pub(super) fn pascal(&mut self, text: &str, room: usize) {
        let used = text.len().min(room - 1);
        self.raw(&[used as u8]);
        self.raw(&text.as_bytes()[..used]);
        self.zeros(room - 1 - used);
    }

    /// The unit matrix of a movie or a track.
    pub(super) fn matrix(&mut self) {
        for number in [0x0001_0000, 0, 0, 0, 0x0001_0000, 0, 0, 0, 0x4000_0000] {
            self.u32(number);
        }
    }

    pub(super) fn into_bytes(self) -> Vec<u8> {
        self.bytes
    }
}
