//! Reads a channel's folder into memory once, and its texts into spanned trees: front matter, TOML,
//! Markdown, CSV and what is spoken. Must not know what any of them mean.

mod assets;
pub mod codes;
mod csv;
mod folder;
mod found;
mod front;
mod markdown;
pub mod script;
mod toml;

pub use self::assets::{Asset, FOLDERS, assets};
pub use self::csv::{MOST_ROWS, Row, csv_line, inert, read_csv};
pub use self::folder::{CHANNEL_LIMIT, FILE_LIMIT, Sources, TEXT_LIMIT, most_bytes, read_text, read_within};
pub use self::found::{Found, find, read_found};
pub use self::front::{FrontMatter, split_front_matter};
pub use self::markdown::{Block, BlockKind, Chunk, read_markdown};
pub use self::toml::{Entry, Table, Value, read_toml};
