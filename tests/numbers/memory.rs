//! A small channel in memory for tests: sources in, `figures/1` out.

use serde_json::Value;
use tallyspoon::batch::Wanted;
use tallyspoon::locale::Locale;
use tallyspoon::model::{Options, load};
use tallyspoon::sheet::{Inputs, Refusal, Request, Resolved, document, resolve};
use tallyspoon::source::Sources;

/// A channel in the making.
#[derive(Clone, Default)]
pub struct Kitchen {
    channel: String,
    pantry: String,
    prices: String,
    front: String,
    method: String,
}

/// The value at a JSON pointer, as plain text.
pub fn at(document: &Value, pointer: &str) -> String {
    match document.pointer(pointer) {
        Some(Value::String(text)) => text.clone(),
        Some(other) => other.to_string(),
        None => panic!("nothing at {pointer} in {document:#}"),
    }
}

impl Kitchen {
    /// An empty channel in euro and Irish English.
    pub fn new() -> Self {
        Self::default()
    }

    /// More lines of `channel.toml`.
    pub fn channel(mut self, lines: &str) -> Self {
        self.channel.push_str(lines);
        self.channel.push('\n');
        self
    }

    /// Another currency than the euro.
    pub fn currency(self, code: &str) -> Self {
        Self { channel: format!("currency = \"{code}\"\n{}", self.channel), ..self }
    }

    /// More lines of `pantry.toml`.
    pub fn pantry(mut self, lines: &str) -> Self {
        self.pantry.push_str(lines);
        self
    }

    /// More lines of `prices.csv`, after its header.
    pub fn prices(mut self, lines: &str) -> Self {
        self.prices.push_str(lines);
        self
    }

    /// The front matter of the one recipe.
    pub fn recipe(self, front: &str) -> Self {
        Self { front: front.to_owned(), ..self }
    }

    /// The method of the one recipe.
    pub fn method(self, method: &str) -> Self {
        Self { method: method.to_owned(), ..self }
    }

    /// The figures of the written batch.
    pub fn figures(&self) -> Value {
        self.document(&Request::default())
    }

    /// The figures at a yield.
    pub fn at(&self, wanted: Wanted) -> Value {
        self.document(&Request { wanted, ..Request::default() })
    }

    /// The figures of a variant.
    pub fn variant(&self, id: &str) -> Value {
        self.document(&Request { variant: Some(id.to_owned()), ..Request::default() })
    }

    /// The figures at the prices of a day.
    pub fn on(&self, day: &str) -> Value {
        self.document(&Request { day: Some(day.parse().expect("a day")), ..Request::default() })
    }

    fn document(&self, request: &Request) -> Value {
        self.with(|inputs| document(inputs, request).expect("a document"))
    }

    /// Everything that is resolved for a request.
    pub fn resolved(&self, request: &Request) -> Resolved {
        self.with(|inputs| resolve(inputs, request).expect("a sheet"))
    }

    /// Why there is no sheet at a yield.
    pub fn refusal(&self, wanted: Wanted) -> Refusal {
        self.with(|inputs| resolve(inputs, &Request { wanted, ..Request::default() }).expect_err("a refusal"))
    }

    /// Whatever follows from its entries.
    pub fn with<T>(&self, done: impl FnOnce(Inputs<'_>) -> T) -> T {
        let sources = Sources::from_memory("content", self.files());
        let (content, findings) = load(&sources, &Options::default());
        let messages: Vec<_> = findings.sorted().into_iter().map(|d| (d.code, d.message.clone())).collect();
        let content = content.unwrap_or_else(|| panic!("the channel has errors: {messages:#?}"));
        let locale = Locale::new(&content.channel.locale, &content.channel.language).expect("a locale");
        let inputs = Inputs {
            channel: &content.channel,
            pantry: &content.pantry,
            book: &content.prices,
            recipe: &content.recipes[0],
            locale: &locale,
        };
        done(inputs)
    }

    fn files(&self) -> Vec<(String, Vec<u8>)> {
        let currency = if self.channel.contains("currency") { "" } else { "currency = \"EUR\"\n" };
        let channel = format!("name = \"Test kitchen\"\nlocale = \"en-IE\"\n{currency}{}", self.channel);
        let prices = format!("date,item,pack,price,place,note\n{}", self.prices);
        let recipe = format!("+++\n{}\n+++\n\n{}", self.front, self.method);
        [
            ("channel.toml", channel),
            ("pantry.toml", self.pantry.clone()),
            ("prices.csv", prices),
            ("dish/recipe.md", recipe),
        ]
        .into_iter()
        .map(|(path, text)| (path.to_owned(), text.into_bytes()))
        .collect()
    }
}
