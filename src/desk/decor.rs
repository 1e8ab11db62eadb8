//! What cards and notes are made with: the theme and the channel's own templates, loaded once.

use super::channel::Channel;
use super::{Fault, Home, cues};
use crate::cue::CueSheet;
use crate::diag::Findings;
use crate::publish::{Dish, Setting, program_stamp};
use crate::sheet::{Sheet, digest};
use crate::slate::Asked;
use crate::source::{Asset, assets};
use crate::span::{Span, Texts};
use crate::template::{Overrides, Voice};
use crate::theme::{self, Theme, ThemeFile};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The theme, the templates, and a digest of both and of the program.
pub struct Decor {
    theme: Arc<Theme>,
    overrides: Overrides,
    stamp: String,
    /// The choice and the files that it was loaded from.
    files: String,
    /// Cues by recipe.
    cues: BTreeMap<String, CueSheet>,
    /// A digest of the theme's files, the built-in ones included.
    pub look: String,
    /// The channel's texts and those of the theme and the templates.
    pub texts: Texts,
}

impl Decor {
    /// Loads the theme that `channel` chooses, its templates, and the cues of its recipes.
    ///
    /// # Errors
    /// What is wrong with any of them.
    pub fn load(home: &Home, channel: &Channel) -> Result<Self, Fault> {
        let decor = Self::without_cues(home, channel)?;
        Ok(Self { cues: cues::all(channel)?, ..decor })
    }

    /// The same without the cues, for those who place them.
    ///
    /// # Errors
    /// As for [`Decor::load`].
    pub fn without_cues(home: &Home, channel: &Channel) -> Result<Self, Fault> {
        let (mut texts, mut findings) = (channel.texts.clone(), Findings::new());
        let choice = &channel.content.channel.theme;
        let own = assets(&home.content, &format!("themes/{}", choice.value), &mut texts, &mut findings);
        let templates = assets(&home.content, "templates", &mut texts, &mut findings);
        let (stamp, look) = (stamp(&own, &templates), look(&own));
        let files = loaded_from(&choice.value, &own, &templates);
        let theme_files: Vec<ThemeFile> = own.into_iter().map(theme_file).collect();
        let loaded = theme::load(choice, (!theme_files.is_empty()).then_some(&theme_files), &mut findings);
        let (Some(theme), false) = (loaded, findings.has_errors()) else {
            return Err(Fault::Findings(findings, texts));
        };
        let text = |asset: &Asset| texts.get(asset.source).map_or(String::new(), |text| text.content.clone());
        let overrides = templates.iter().map(|asset| (asset.path.clone(), text(asset))).collect();
        let cues = BTreeMap::new();
        Ok(Self { theme: Arc::new(theme), overrides, stamp: stamp?, cues, look, files, texts })
    }

    /// The same for a channel that was read again, without loading what has not changed; `None` where theme or templates
    /// did.
    ///
    /// # Errors
    /// Cues at fault.
    pub fn renewed(&self, home: &Home, channel: &Channel) -> Result<Option<Self>, Fault> {
        let (mut texts, mut findings) = (channel.texts.clone(), Findings::new());
        let choice = &channel.content.channel.theme.value;
        let own = assets(&home.content, &format!("themes/{choice}"), &mut texts, &mut findings);
        let templates = assets(&home.content, "templates", &mut texts, &mut findings);
        if findings.has_errors() || loaded_from(choice, &own, &templates) != self.files {
            return Ok(None);
        }
        Ok(Some(Self {
            theme: Arc::clone(&self.theme),
            overrides: self.overrides.clone(),
            stamp: self.stamp.clone(),
            cues: cues::all(channel)?,
            look: self.look.clone(),
            files: self.files.clone(),
            texts,
        }))
    }

    /// What cards are drawn with.
    pub fn theme(&self) -> &Theme {
        &self.theme
    }

    /// A recipe's sheet as it was asked for, with all that its files are made with.
    pub fn dish<'a>(&'a self, channel: &'a Channel, sheet: &'a Sheet, asked: &'a Asked) -> Dish<'a> {
        let model = &channel.content.channel;
        let voice = Voice { locale: &channel.locale, region: model.region, overrides: &self.overrides };
        let setting = Setting { channel: model, voice, theme: &self.theme, stamp: &self.stamp };
        let recipe = channel.content.recipe(&sheet.recipe).expect("the sheet was resolved from it");
        let text = self.texts.get(recipe.source).map_or("", |text| text.content.as_str());
        let home = Span::new(recipe.source, recipe.title.span.start, recipe.title.span.end);
        let cues = self.cues.get(&sheet.recipe);
        Dish { setting, sheet, source: (text, home), cues, asked, frames: &model.frames, companion: None, words: true }
    }
}

/// A digest of a theme: the channel's own files and all that they can lie over.
fn look(own: &[Asset]) -> String {
    let own = own.iter().map(|asset| (asset.path.clone(), digest(&asset.bytes)));
    let builtin = theme::NAMES.iter().flat_map(|name| theme::builtin_files(name).into_iter().flatten());
    let builtin = builtin.map(|file| (file.path.clone(), digest(&file.bytes)));
    digest(builtin.chain(own).map(|(path, digest)| format!("{path} {digest}\n")).collect::<String>().as_bytes())
}

/// A theme's name and a digest of each of the channel's own files that go with it.
fn loaded_from(theme: &str, own: &[Asset], templates: &[Asset]) -> String {
    let files = own.iter().chain(templates).map(|asset| format!("\n{} {}", asset.path, digest(&asset.bytes)));
    std::iter::once(theme.to_owned()).chain(files).collect()
}

fn theme_file(asset: Asset) -> ThemeFile {
    ThemeFile { path: asset.path, source: Some(asset.source), bytes: asset.bytes.into() }
}

fn stamp(own: &[Asset], templates: &[Asset]) -> Result<String, Fault> {
    let mut stamp = program_stamp()?;
    for asset in own.iter().chain(templates) {
        stamp.push_str(&format!("\n{} {}", asset.path, digest(&asset.bytes)));
    }
    Ok(stamp)
}
