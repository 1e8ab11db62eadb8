//! The `proof/1` document.

use super::claim::{Claim, Place, Proof, SumSaid};
use super::names::Slip;
use crate::sheet::Kind;
use serde_json::{Map, Value, json};

/// A kind's unit in `proof/1`; money has its currency's code.
fn unit(claim: &Claim) -> &'static str {
    match claim.kind {
        Kind::Weight => "g",
        Kind::Volume => "mL",
        Kind::Count => "1",
        Kind::Percent => "%",
        Kind::Temperature => "Cel",
        Kind::Duration => "s",
        Kind::Length => "mm",
        Kind::Money => claim.currency,
    }
}

/// Times, or where there are none the line and the column.
fn place(place: &Place) -> Map<String, Value> {
    let time = |millis: Option<crate::source::script::Millis>| millis.map(|millis| millis.to_string());
    let mut object = Map::new();
    object.insert("start".into(), json!(time(place.start)));
    object.insert("end".into(), json!(time(place.end)));
    if place.start.is_none() {
        object.insert("line".into(), json!(place.line));
        object.insert("column".into(), json!(place.column));
    }
    object.insert("text".into(), json!(place.text));
    object
}

fn claim(claim: &Claim) -> Value {
    let mut object = place(&claim.place);
    let expected = claim.expected.as_ref();
    let mut put = |key: &str, value: Value| object.insert(key.into(), value);
    put("kind", json!(claim.kind.id()));
    put("low", json!(claim.low.decimal()));
    put("high", json!(claim.high.decimal()));
    put("unit", json!(unit(claim)));
    put("about", json!(claim.about));
    put("verdict", json!(claim.verdict.id()));
    put("expected_low", json!(expected.map(|expected| expected.value.low().decimal())));
    put("expected_high", json!(expected.map(|expected| expected.value.high().decimal())));
    put("expected_shown", json!(expected.map(|expected| expected.value.shown().text())));
    put("expected_said", json!(expected.map(|expected| expected.said.text())));
    if claim.misheard {
        put("misheard", json!(true));
    }
    if let Some(variant) = &claim.variant {
        put("variant", if variant.is_empty() { Value::Null } else { json!(variant) });
    }
    Value::Object(object)
}

fn sum(sum: &SumSaid) -> Value {
    let mut object = place(&sum.place);
    object.insert("holds".into(), json!(sum.holds));
    if let Some(result) = &sum.result {
        object.insert("result".into(), claim(result));
    }
    Value::Object(object)
}

fn name(slip: &Slip) -> Value {
    let mut object = place(&slip.place);
    let said = object.remove("text");
    object.insert("said".into(), json!(said));
    object.insert("written".into(), json!(slip.written));
    object.insert("certain".into(), json!(slip.certain));
    Value::Object(object)
}

impl Proof {
    /// The document.
    pub fn document(&self) -> Value {
        json!({
            "schema": "proof/1",
            "recipe": self.recipe,
            "claims": self.claims.iter().map(claim).collect::<Vec<_>>(),
            "sums": self.sums.iter().map(sum).collect::<Vec<_>>(),
            "names": self.names.iter().map(name).collect::<Vec<_>>(),
            "silent": self.silent,
        })
    }
}
