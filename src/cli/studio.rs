//! What cards and notes are made with: the theme and the channel's own templates, loaded once for a command.

use super::Failure;
use super::args::Cli;
use super::channel::Channel;
use crate::diag::Findings;
use crate::draw::ArtCache;
use crate::publish::{Dish, Studio, program_stamp};
use crate::sheet::Sheet;
use crate::source::{Asset, assets};
use crate::span::{Span, Texts};
use crate::template::{Overrides, Voice};
use crate::theme::{self, Theme, ThemeFile};

/// The theme, the templates, and a digest of both and of the program.
pub(super) struct Decor {
    theme: Theme,
    overrides: Overrides,
    art: ArtCache,
    stamp: String,
    /// The channel's texts and those of the theme and the templates.
    pub texts: Texts,
}

impl Decor {
    /// Loads what `channel` chooses.
    pub(super) fn load(cli: &Cli, channel: &Channel) -> Result<Self, Failure> {
        let (mut texts, mut findings) = (channel.texts.clone(), Findings::new());
        let choice = &channel.content.channel.theme;
        let own = assets(&cli.content, &format!("themes/{}", choice.value), &mut texts, &mut findings);
        let templates = assets(&cli.content, "templates", &mut texts, &mut findings);
        let stamp = stamp(&own, &templates);
        let files: Vec<ThemeFile> = own.into_iter().map(theme_file).collect();
        let loaded = theme::load(choice, (!files.is_empty()).then_some(&files), &mut findings);
        let (Some(theme), false) = (loaded, findings.has_errors()) else {
            return Err(Failure::Findings(findings, texts));
        };
        let text = |asset: &Asset| texts.get(asset.source).map_or(String::new(), |text| text.content.clone());
        let overrides = templates.iter().map(|asset| (asset.path.clone(), text(asset))).collect();
        Ok(Self { theme, overrides, art: ArtCache::new(), stamp: stamp?, texts })
    }

    /// A recipe's sheet with all that its files are made with.
    pub(super) fn dish<'a>(&'a self, channel: &'a Channel, sheet: &'a Sheet) -> Dish<'a> {
        let model = &channel.content.channel;
        let voice = Voice { locale: &channel.locale, region: model.region, overrides: &self.overrides };
        let studio = Studio { channel: model, voice, theme: &self.theme, art: &self.art, stamp: &self.stamp };
        let recipe = channel.content.recipe(&sheet.recipe).expect("the sheet was resolved from it");
        let text = self.texts.get(recipe.source).map_or("", |text| text.content.as_str());
        let home = Span::new(recipe.source, recipe.title.span.start, recipe.title.span.end);
        Dish { studio, sheet, source: (text, home), frames: &model.frames, words: true }
    }
}

fn theme_file(asset: Asset) -> ThemeFile {
    ThemeFile { path: asset.path, source: Some(asset.source), bytes: asset.bytes.into() }
}

fn stamp(own: &[Asset], templates: &[Asset]) -> Result<String, Failure> {
    let mut stamp = program_stamp()?;
    for asset in own.iter().chain(templates) {
        stamp.push_str(&format!("\n{} {}", asset.path, crate::publish::digest(&asset.bytes)));
    }
    Ok(stamp)
}
