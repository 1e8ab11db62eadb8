//! The command line: commands, options and their help. The one definition that the parser, the help, the
//! manual page and the shell completions follow from. Must not know what a command does.

use crate::desk::Home;
use crate::slate::Asked;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// One formula in; every card, cost and note out, at any yield.
///
/// A channel is a folder: channel.toml, pantry.toml, prices.csv and a folder a recipe. `check` reads it,
/// `figures`, `cards` and `notes` show one recipe at any yield, `publish` brings everything up to date.
#[derive(Debug, Parser)]
#[command(
    name = "tallyspoon",
    version,
    long_version = concat!(env!("CARGO_PKG_VERSION"), "\n", env!("TALLYSPOON_BUILD")),
    max_term_width = 100,
    subcommand_required = true,
    arg_required_else_help = true
)]
#[command(after_help = "Exit codes: 0 done, 1 the sources are at fault, 2 the command line is. \
                        Nothing is half-written at either.")]
pub struct Cli {
    /// The channel's folder
    #[arg(long, value_name = "DIR", default_value = "content", global = true)]
    pub content: PathBuf,
    /// The language to write in, instead of the channel's own
    #[arg(long, value_name = "CODE", global = true, value_parser = ["en", "fr", "de"])]
    pub language: Option<String>,
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

impl Cli {
    /// The channel that is meant.
    pub fn home(&self) -> Home {
        Home { content: self.content.clone(), language: self.language.clone() }
    }
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Read the whole channel and print each error and warning with its place
    Check {
        /// First bring the sources to the newest form; a copy of what is replaced is kept
        #[arg(long)]
        upgrade: bool,
    },
    /// Print a recipe's figures: amounts, percents, costs, allergens
    Figures {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// Print them as JSON in the form `figures/1`, with exact values
        #[arg(long)]
        json: bool,
    },
    /// Draw a recipe's cards as PNG and SVG
    Cards {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// Where to: cards go to DIR/RECIPE/FRAME
        #[arg(long, value_name = "DIR")]
        out: PathBuf,
        /// Only this frame of channel.toml
        #[arg(long, value_name = "NAME")]
        frame: Option<String>,
        /// The take.
        #[command(flatten)]
        taken: Taken,
    },
    /// Film a recipe's cards: they come, are read and leave, over a clear ground
    ///
    /// Lines of a list come one after the other, totals are counted up to, bars grow, waits run down. Files stand where
    /// `cards` puts its pictures. A card is there as long as its cue says, in cues.toml or made up from the captions beside
    /// the recipe; without cues as long as it takes to read it. With --slate, cues of cards that the take has not are left
    /// out, and a wait that the recipe no longer has stands still; both are told.
    Motion {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// Where to: films go to DIR/RECIPE/FRAME
        #[arg(long, value_name = "DIR")]
        out: PathBuf,
        /// Only this card, such as weigh-out or step-2
        #[arg(long, value_name = "NAME")]
        card: Option<String>,
        /// Only this frame of channel.toml
        #[arg(long, value_name = "NAME")]
        frame: Option<String>,
        /// The form of the films
        #[arg(long = "as", value_enum, default_value_t = FilmForm::Mov)]
        form: FilmForm,
        /// With less motion: nothing moves, grows or counts; cards and lines fade
        #[arg(long)]
        still: bool,
        /// The take.
        #[command(flatten)]
        taken: Taken,
    },
    /// Put a recipe's cards over a video or a picture, at their cues, to look at before the editor is opened
    ///
    /// FILE.mp4 is a small film, made through ffmpeg; FILE.png, and any FILE where ffmpeg is not installed, a strip of
    /// stills with their timecodes. Cues are those of cues.toml, or made up from the captions beside the recipe; without
    /// either, cards follow each other by reading time.
    Reel {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// The file to make, .mp4 or .png; one that is there is never overwritten
        #[arg(long, value_name = "FILE")]
        out: PathBuf,
        /// The video or the picture below the cards [default: a plain one of the theme]
        #[arg(long, value_name = "VIDEO-OR-PICTURE")]
        over: Option<PathBuf>,
        /// This frame of channel.toml [default: the first]
        #[arg(long, value_name = "NAME")]
        frame: Option<String>,
        /// Draw the lines of the safe area
        #[arg(long)]
        guides: bool,
        /// The take.
        #[command(flatten)]
        taken: Taken,
    },
    /// Print a recipe's notes, ready for a video's description or a site
    Notes {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// The form they are written in
        #[arg(long, value_enum, default_value_t = Format::Plain)]
        format: Format,
    },
    /// Hold a script or captions against a recipe's figures: what was said, against what is true
    ///
    /// Finds every quantity that is said, links it to its figure and reports what differs, with its place. FILE is WebVTT,
    /// SubRip, plain text or Markdown. The exit code is also 1 if anything said differs or a sum does not come out, so
    /// that a script can stop an upload.
    Proof {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// The captions or the script
        #[arg(value_name = "FILE")]
        file: PathBuf,
        /// Print everything found as JSON in the form `proof/1`
        #[arg(long)]
        json: bool,
        /// Show every claim, what was tried for it and why, and what was left aside
        #[arg(long)]
        explain: bool,
        /// Write the captions to OUT, which ends as FILE does, with misheard names corrected; times and all else stay
        #[arg(long, value_name = "OUT")]
        fix: Option<PathBuf>,
        /// With --fix, set numbers said in words as digits with their units, too
        #[arg(long, requires = "fix")]
        numbers: bool,
        /// Write the report to OUT, which ends with .html, as a page that plays along with a video of yours
        #[arg(long, value_name = "OUT")]
        html: Option<PathBuf>,
    },
    /// Place a recipe's cards by its captions: when each comes and how long it stays, in an editable cues.toml
    ///
    /// Finds where each step starts, each ingredient is first weighed, each wait begins and the cost is told, and writes
    /// cues.toml beside the recipe. A cue with `pin = true` is never moved; all others follow the captions, and what
    /// moved is told. Without captions, plan the take with `shoot`.
    Cues {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// The captions, WebVTT or SubRip [default: captions.vtt or captions.srt beside the recipe]
        #[arg(value_name = "CAPTIONS")]
        captions: Option<PathBuf>,
        /// Frames a second of the video: 23.976, 24, 25, 29.97 DF, 29.97 NDF, 30, 50, 59.94 or 60 [default: that of
        /// cues.toml, or of the channel's first frame]
        #[arg(long, value_name = "RATE")]
        rate: Option<String>,
        /// How long the video is, as a timecode such as 00:02:30:00, where it goes on after its captions and the recipe's
        /// [video] does not say so
        #[arg(long, value_name = "TIMECODE")]
        length: Option<String>,
    },
    /// Print the order to shoot a recipe in: what to show and say, how long that takes, and what has to wait
    Shoot {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// Write it to OUT, which ends with .html, as a page to print, too
        #[arg(long, value_name = "OUT")]
        html: Option<PathBuf>,
    },
    /// Write a recipe's cues for an edit program: EDLs, OpenTimelineIO and a chapters file
    ///
    /// For each frame DIR/RECIPE/FRAME gets a CMX 3600 list a lane, timeline.otio with a track a lane and markers for
    /// steps and for what was said wrong, and chapters.vtt. They name the films that `motion` makes beside them. The cues
    /// are those of cues.toml, or else made up from the captions beside the recipe.
    Timeline {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// Where to: files go to DIR/RECIPE/FRAME
        #[arg(long, value_name = "DIR")]
        out: PathBuf,
        /// Frames a second of the timeline: 23.976, 24, 25, 29.97 DF, 29.97 NDF, 30, 50, 59.94 or 60 [default: that of the
        /// frame in channel.toml]
        #[arg(long, value_name = "RATE")]
        rate: Option<String>,
        /// The timecode that the timeline starts at [default: one hour]
        #[arg(long, value_name = "TIMECODE")]
        start: Option<String>,
        /// Only this frame of channel.toml
        #[arg(long, value_name = "NAME")]
        frame: Option<String>,
        /// The captions that the markers are from [default: captions.vtt or captions.srt beside the recipe]
        #[arg(long, value_name = "FILE")]
        captions: Option<PathBuf>,
    },
    /// Bring cards, notes and pages of every recipe up to date; again after a change, only what changed
    Publish {
        /// Where to: everything of a recipe goes to DIR/RECIPE, and an index to DIR/index.html
        #[arg(long, value_name = "DIR")]
        out: PathBuf,
    },
    /// Set what a recipe costs side by side: its variants, its yields, or the places it is bought at
    Cost {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// What to set side by side
        #[arg(long, value_enum)]
        by: Option<By>,
    },
    /// List what things cost; add a purchase, import a shop's list, export the book
    #[command(disable_help_subcommand = true)]
    Prices {
        /// Only this item: every purchase of it, the latest first
        #[arg(value_name = "ITEM")]
        item: Option<String>,
        /// The day whose prices hold [default: that of the latest purchase]
        #[arg(long, value_name = "YYYY-MM-DD")]
        on: Option<String>,
        /// What to do with the book.
        #[command(subcommand)]
        action: Option<PricesAction>,
    },
    /// Keep a recipe's figures as they are filmed, in a dated file beside it
    Slate {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// The day of the take [default: today]
        #[arg(long, value_name = "YYYY-MM-DD")]
        day: Option<String>,
    },
    /// Say what is no longer so of what was filmed, and print the correction to paste
    ///
    /// Holds every slate against the sources and today's prices: formula, method and price, from what to what. Exits
    /// with 1 if anything has changed.
    Drift {
        /// Only this recipe
        #[arg(value_name = "RECIPE")]
        recipe: Option<String>,
    },
    /// List pictures and notes whose figures are no longer true, in any folder, with what they say and what is so
    ///
    /// Reads the stamps in PNG, SVG and notes (where `stamp = true` in channel.toml) and compares all that they say with
    /// the sources and today's prices. What has no stamp or can't be read is passed by and counted. Exits with 1 if
    /// anything is stale.
    Stale {
        /// Folders or files, such as those of an edit project
        #[arg(value_name = "PATH", required = true)]
        paths: Vec<PathBuf>,
    },
    /// List every recipe with what it costs, apiece and as written, and how that changed since it was last filmed
    Table {
        /// What it is sorted by
        #[arg(long, value_enum, default_value_t = SortBy::Each)]
        sort: SortBy,
        /// As CSV; no cell of it is run as a formula
        #[arg(long)]
        csv: bool,
    },
    /// Write a recipe's costs as a spreadsheet (.xlsx) with live formulas
    Workbook {
        /// Which recipe and how much of it.
        #[command(flatten)]
        what: What,
        /// The file to make; one that is there is never overwritten
        #[arg(long, value_name = "FILE")]
        out: PathBuf,
    },
    /// Open the studio: a page in your browser to look at cards, edit, price, proof and publish
    ///
    /// Everything stays on this computer: the page is served to it alone, at an address that is printed and that nobody can
    /// guess. Edits by any editor show at once. Without a channel, the studio begins one. It closes by its button or Ctrl-C.
    Studio {
        /// Where the studio publishes to
        #[arg(long, value_name = "DIR", default_value = "out")]
        out: PathBuf,
        /// The port it listens on [default: any that is free]
        #[arg(long, value_name = "PORT", default_value_t = 0, hide_default_value = true)]
        port: u16,
        /// Don't open the browser: print the address and wait
        #[arg(long)]
        no_open: bool,
    },
    /// Begin a channel in a new folder, with a first dish from lines such as `flour 500 g`
    ///
    /// Asks what it needs to know on a terminal. For a script, give everything as options and the lines on standard input.
    /// Weights become percents that give the same grams back; spoons and counts stay as they are, but for what is 100 %.
    /// What the pantry does not know gets an entry that says so, and a name that looks like a slip is asked about.
    New {
        /// The folder to make
        #[arg(value_name = "DIR")]
        dir: PathBuf,
        /// The channel's name
        #[arg(long)]
        name: Option<String>,
        /// Language and country, such as en-IE, fr-FR or de-AT [default: en-IE]
        #[arg(long)]
        locale: Option<String>,
        /// The currency, such as EUR [default: that of the country]
        #[arg(long, value_name = "CODE")]
        currency: Option<String>,
        /// Whose spoons and cups: metric, us, uk, au, ca or jp [default: those of the country]
        #[arg(long)]
        measures: Option<String>,
        /// The first dish's title
        #[arg(long)]
        title: Option<String>,
        /// What the batch makes, such as "12 rolls"
        #[arg(long, value_name = "COUNT NAME")]
        makes: Option<String>,
        /// The line that is 100 % [default: the flours, or else what weighs most]
        #[arg(long, value_name = "INGREDIENT")]
        basis: Option<String>,
        /// This name is meant as it is written; may be given again
        #[arg(long = "as-written", value_name = "NAME")]
        own: Vec<String>,
    },
    /// Print a script that completes this program's commands in a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    Man,
}

/// What to do with the price book.
#[derive(Debug, Subcommand)]
pub enum PricesAction {
    /// Add a purchase at the end of prices.csv; all that is there stays as it is
    Add {
        /// The item: its pantry key, its name, or what is said for it
        item: String,
        /// What one pack holds, such as "500 g", "1 L", 12 or "6 x 330 mL"
        pack: String,
        /// What the pack cost, such as 2.49; 0 for what is free
        #[arg(allow_negative_numbers = true)]
        price: String,
        /// The day it was bought [default: today]
        #[arg(long, value_name = "YYYY-MM-DD")]
        on: Option<String>,
        /// Where it was bought
        #[arg(long, default_value = "")]
        place: String,
        /// A remark
        #[arg(long, default_value = "")]
        note: String,
        /// It was on offer: says so in the note
        #[arg(long)]
        offer: bool,
    },
    /// Add what a shop's CSV lists to prices.csv: all of it, or nothing where a line is not understood
    Import {
        /// The shop's file
        file: PathBuf,
        /// The book's columns and the shop's, such as "date=Datum,item=Artikel,pack=Menge+Einheit,price=Preis"
        #[arg(long, value_name = "OURS=THEIRS,...", value_delimiter = ',')]
        columns: Vec<String>,
        /// A CSV with the header name,item: the shop's names and your pantry keys; no key leaves a line out
        #[arg(long, value_name = "FILE")]
        items: Option<PathBuf>,
        /// The day of all lines, where no column has it
        #[arg(long, value_name = "YYYY-MM-DD")]
        on: Option<String>,
        /// The place of all lines, where no column has it
        #[arg(long)]
        place: Option<String>,
        /// How dates are written
        #[arg(long, value_enum, default_value_t = Dates::Ymd)]
        dates: Dates,
        /// What splits the fields [default: what the header has]
        #[arg(long, value_enum)]
        separator: Option<Separator>,
        /// What stands before decimals [default: what each number shows beyond doubt]
        #[arg(long, value_enum)]
        decimal: Option<Mark>,
    },
    /// Tell what another price would change: every recipe, card and note, from what to what; nothing is written
    WhatIf {
        /// The item: its pantry key
        item: String,
        /// A change such as +15% or -10%, or the price of a pack
        #[arg(value_name = "CHANGE", allow_hyphen_values = true)]
        change: String,
        /// What the pack would hold, where it is another than the one that holds
        #[arg(long)]
        pack: Option<String>,
        /// The day from which the price would hold [default: that of the latest purchase]
        #[arg(long, value_name = "YYYY-MM-DD")]
        on: Option<String>,
    },
    /// Print every purchase as CSV, for a spreadsheet
    Export {
        /// What splits the fields
        #[arg(long, value_enum, default_value_t = Separator::Comma)]
        separator: Separator,
        /// What stands before decimals
        #[arg(long, value_enum, default_value_t = Mark::Point)]
        decimal: Mark,
    },
}

/// What stands side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum By {
    /// The recipe as written and each of its variants
    Variant,
    /// The yields of its ratio table
    Yield,
    /// The latest prices anywhere, and each place's own where it has them
    Place,
}

/// In which order a date has its day, month and year.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Dates {
    /// 2026-03-02
    Ymd,
    /// 02.03.2026 or 2/3/2026
    Dmy,
    /// 03/02/2026
    Mdy,
}

/// What splits fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Separator {
    /// ,
    Comma,
    /// ;
    Semicolon,
    /// A tab
    Tab,
}

/// What stands before decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Mark {
    /// 1.35
    Point,
    /// 1,35
    Comma,
}

/// What the channel's table is sorted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SortBy {
    /// The recipe's folder name
    Name,
    /// What the batch costs, the least first
    Total,
    /// What a piece costs, the least first
    Each,
    /// How much dearer it became since it was filmed, the most first
    Change,
}

/// The form of films.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum FilmForm {
    /// QuickTime Animation, lossless with alpha (.mov): what editors import
    Mov,
    /// Animated PNG (.apng)
    Apng,
    /// A folder of PNGs, one a frame
    Frames,
    /// ProRes 4444 (.mov), through ffmpeg
    Prores,
    /// VP9 with alpha (.webm), through ffmpeg
    Webm,
}

/// Which recipe and how much of it.
#[derive(Debug, Args)]
pub struct What {
    /// The recipe: its folder's name
    #[arg(value_name = "RECIPE")]
    pub recipe: String,
    /// How much of it.
    #[command(flatten)]
    pub amount: Amount,
    /// This variant of the recipe
    #[arg(long, value_name = "ID")]
    pub variant: Option<String>,
    /// The day whose prices hold [default: that of the latest purchase]
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub on: Option<String>,
}

impl What {
    /// What is asked of the recipe.
    pub fn asked(&self) -> Asked {
        let Amount { makes, batch, have, times } = &self.amount;
        Asked {
            makes: makes.clone(),
            batch: batch.clone(),
            have: have.clone(),
            times: times.clone(),
            variant: self.variant.clone(),
            on: self.on.clone(),
        }
    }
}

/// A take instead of the recipe as it is now.
#[derive(Debug, Args)]
pub struct Taken {
    /// As they were filmed: the figures, frames and theme of this slate
    #[arg(long, value_name = "DATE", conflicts_with_all = ["Amount", "variant", "on"])]
    pub slate: Option<String>,
}

/// The yield: at most one of these.
#[derive(Debug, Args)]
#[group(multiple = false)]
#[command(next_help_heading = "Yield (at most one)")]
pub struct Amount {
    /// So many pieces, counted by the upper number of a range
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub makes: Option<String>,
    /// So much of the basis, such as "500 g"
    #[arg(long, value_name = "WEIGHT", allow_hyphen_values = true)]
    pub batch: Option<String>,
    /// What is on hand, such as "flour=330 g"; given again for another item, the scarcest decides
    #[arg(long, value_name = "ITEM=AMOUNT")]
    pub have: Vec<String>,
    /// So many times the written batch, such as 2, 0.5 or 3/4
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub times: Option<String>,
}

/// The form of the notes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// Text without markup, at most 5,000 bytes: for a video's description
    Plain,
    /// Markdown
    Markdown,
    /// A piece of HTML
    Html,
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory as _;

    #[test]
    fn the_definition_holds_together() {
        Cli::command().debug_assert();
    }
}
