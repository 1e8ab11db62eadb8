//! What cards and notes are made with: the theme and the channel's own templates, loaded once.

use super::channel::Channel;
use super::{Fault, Home, cues};
use crate::cue::CueSheet;
use crate::diag::Findings;
use crate::publish::{Dish, Setting};
use crate::sheet::{Sheet, digest};
use crate::slate::Asked;
use crate::source::{Asset, assets};
use crate::span::{Span, Texts};
use crate::template::{Overrides, Voice};
use crate::theme::{self, Theme, ThemeFile};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The theme, the templates, and what both were loaded from.
pub struct Decor {
    theme: Arc<Theme>,
    overrides: Overrides,
    /// The theme's name, and a digest of each of the channel's own files of it and of the templates.
    files: String,
    /// A line for each of those that are the theme's.
    own: String,
    /// Cues by recipe.
    cues: BTreeMap<String, CueSheet>,
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
        Ok(Self { cues: cues::all(home, channel)?, ..decor })
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
        let (listed, files) = loaded_from(&choice.value, &own, &templates);
        let theme_files: Vec<ThemeFile> = own.into_iter().map(theme_file).collect();
        let loaded = theme::load(choice, (!theme_files.is_empty()).then_some(&theme_files), &mut findings);
        let (Some(theme), false) = (loaded, findings.has_errors()) else {
            return Err(Fault::Findings(findings, texts));
        };
        let text = |asset: &Asset| texts.get(asset.source).map_or(String::new(), |text| text.content.clone());
        let overrides = templates.iter().map(|asset| (asset.path.clone(), text(asset))).collect();
        let cues = BTreeMap::new();
        Ok(Self { theme: Arc::new(theme), overrides, files, own: listed, cues, texts })
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
        if findings.has_errors() || loaded_from(choice, &own, &templates).1 != self.files {
            return Ok(None);
        }
        Ok(Some(Self {
            theme: Arc::clone(&self.theme),
            overrides: self.overrides.clone(),
            cues: cues::all(home, channel)?,
            files: self.files.clone(),
            own: self.own.clone(),
            texts,
        }))
    }

    /// The same for a channel that was read again.
    ///
    /// # Errors
    /// As for [`Decor::load`].
    pub fn again(&self, home: &Home, channel: &Channel) -> Result<Self, Fault> {
        self.renewed(home, channel)?.map_or_else(|| Self::load(home, channel), Ok)
    }

    /// A digest of the theme: the channel's own files and all that they can lie over.
    pub fn look(&self) -> String {
        let builtin = theme::NAMES.iter().flat_map(|name| theme::builtin_files(name).into_iter().flatten());
        let builtin: String = builtin.map(|file| line(&file.path, &file.bytes)).collect();
        digest((builtin + &self.own).as_bytes())
    }

    /// What cards are drawn with.
    pub fn theme(&self) -> &Theme {
        &self.theme
    }

    /// A recipe's sheet as it was asked for, with all that its files are made with.
    pub fn dish<'a>(&'a self, channel: &'a Channel, sheet: &'a Sheet, asked: &'a Asked) -> Dish<'a> {
        let model = &channel.content.channel;
        let voice = Voice { locale: &channel.locale, region: model.region, overrides: &self.overrides };
        let setting = Setting { channel: model, voice, theme: &self.theme, files: &self.files };
        let recipe = channel.content.recipe(&sheet.recipe).expect("the sheet was resolved from it");
        let start = Span::new(recipe.source, recipe.title.span.start, recipe.title.span.end);
        let cues = self.cues.get(&sheet.recipe);
        Dish {
            setting,
            sheet,
            inputs: channel.inputs(recipe),
            texts: &channel.texts,
            start,
            cues,
            asked,
            frames: &model.frames,
            companion: None,
            words: true,
        }
    }
}

/// A line for each of a theme's own files, with its digest; and these below the theme's name and above those of the
/// templates.
fn loaded_from(theme: &str, own: &[Asset], templates: &[Asset]) -> (String, String) {
    let lines = |assets: &[Asset]| assets.iter().map(|asset| line(&asset.path, &asset.bytes)).collect::<String>();
    let own = lines(own);
    let files = format!("{theme}\n{own}{}", lines(templates));
    (own, files)
}

fn line(path: &str, bytes: &[u8]) -> String {
    format!("{path} {}\n", digest(bytes))
}

fn theme_file(asset: Asset) -> ThemeFile {
    ThemeFile { path: asset.path, source: Some(asset.source), bytes: asset.bytes.into() }
}
