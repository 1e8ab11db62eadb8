//! The checked entries of a channel: channel, pantry, price book, formula, method.
//! Every value here has been read, checked and resolved; must not know yields, prices of a day or outputs.

mod channel;
mod diet;
mod facts;
mod formula;
mod method;
mod prices;
mod read;

pub mod codes;

pub use channel::{Channel, Frame, Insets, Region, SCHEMA};
pub use diet::{Verdict, verdict};
pub use facts::{Allergen, Claim, Hazard, Item, Pantry, Role};
pub use formula::{
    Amount, Appliance, Basis, Compare, Fry, Line, LineRef, Makes, Pan, Part, Portion, Recipe, Subject, Variant, Video,
};
pub use method::{Brace, Field, Inline, LineUse, Method, Outcome, PartUse, Share, Step};
pub use prices::{Offers, Pack, PriceBook, Purchase};
pub use read::{
    Book, Content, Decimal, Import, Imported, Options, Order, Written, amiss_in, append, import, load, load_book,
    meant_unit,
};
