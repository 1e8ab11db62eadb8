//! What artwork may cost: its source drawn out before anything is made of it, and what painting it takes before anything
//! is painted. A few lines of SVG can ask for a picture that no machine ends. Must not know what else artwork may contain.

use std::collections::HashMap;

use usvg::roxmltree::{Document, Node, NodeId};
use usvg::{ClipPath, Group, Mask, Paint, Path, Pattern, Size, Tree};

/// So many bytes a drawing may have with everything that is used again written out where it is used.
const MOST_BYTES: usize = 256 << 10;
/// What an element counts beside the bytes of its attributes.
const ELEMENT: usize = 32;
/// Elements may lie so deep in each other, references followed.
const DEEPEST: usize = 64;
/// A style sheet's rules meet every element.
const MOST_STYLE: usize = 4 << 10;
/// So many layers (what is half clear, masked, clipped or a pattern) are painted apart and put together.
const MOST_LAYERS: usize = 100;
/// So many dashes are painted.
const MOST_DASHES: f32 = 20_000.0;

/// Why a drawing is refused, and the element that it is for.
pub(super) struct Refusal<'d, 'i> {
    pub(super) node: Node<'d, 'i>,
    pub(super) reason: String,
}

/// Refuses a source that would grow without end or beyond measure when it is drawn out.
pub(super) fn weigh<'d, 'i>(document: &'d Document<'i>) -> Result<(), Refusal<'d, 'i>> {
    let root = document.root_element();
    let named = document.descendants().filter_map(|node| Some((node.attribute("id")?, node)));
    let mut scale = Scale { named: named.collect(), known: HashMap::new() };
    // Attributes and comments were read already; nothing below walks deeper than this.
    let style: usize = document
        .descendants()
        .filter(|node| node.has_tag_name("style"))
        .map(|node| node.descendants().filter_map(|text| text.text()).map(str::len).sum::<usize>())
        .sum();
    if style > MOST_STYLE {
        let reason = format!("its style sheets have {style} bytes, and {MOST_STYLE} are enough: style the elements");
        return Err(Refusal { node: root, reason });
    }
    scale.load(root, 1).map(|_| ())
}

/// How much an element weighs and how deep it reaches.
#[derive(Clone, Copy)]
struct Load {
    bytes: usize,
    height: usize,
}

struct Scale<'d, 'i> {
    named: HashMap<&'d str, Node<'d, 'i>>,
    known: HashMap<NodeId, Load>,
}

impl<'d, 'i> Scale<'d, 'i> {
    fn load(&mut self, node: Node<'d, 'i>, depth: usize) -> Result<Load, Refusal<'d, 'i>> {
        let known = self.known.get(&node.id()).copied();
        if depth + known.map_or(0, |load| load.height) > DEEPEST {
            let reason = format!("it lies more than {DEEPEST} deep, or refers to itself in a circle: draw it flat");
            return Err(Refusal { node, reason });
        }
        if let Some(load) = known {
            return Ok(load);
        }
        let own: usize = node.attributes().map(|attribute| attribute.name().len() + attribute.value().len()).sum();
        let mut load = Load { bytes: ELEMENT + own, height: 1 };
        let inside: Vec<Node> = node.children().filter(Node::is_element).chain(self.used(&node)).collect();
        for inner in inside {
            let more = self.load(inner, depth + 1)?;
            load.bytes = load.bytes.saturating_add(more.bytes);
            load.height = load.height.max(more.height + 1);
            if load.bytes > MOST_BYTES {
                let reason = format!(
                    "drawn out, with all that is used again, it has more than {} KiB: draw it with less",
                    MOST_BYTES >> 10
                );
                return Err(Refusal { node, reason });
            }
        }
        self.known.insert(node.id(), load);
        Ok(load)
    }

    /// What an element draws that stands elsewhere. Gradients are made once, however often they are used.
    fn used(&self, node: &Node<'d, 'i>) -> Vec<Node<'d, 'i>> {
        let mut used = Vec::new();
        for attribute in node.attributes() {
            let value: &'d str = attribute.value();
            let reference = if attribute.name() == "href" { value.strip_prefix('#') } else { None };
            let painted = value.split("url(").skip(1).filter_map(|rest| {
                let rest = rest.trim_start().trim_start_matches(['"', '\'']).strip_prefix('#')?;
                rest.split([')', '"', '\'']).next().map(str::trim)
            });
            used.extend(reference.into_iter().chain(painted).filter_map(|id| self.named.get(id).copied()));
        }
        used.retain(|node| !matches!(node.tag_name().name(), "linearGradient" | "radialGradient"));
        used
    }
}

/// Why painting a drawing would take too much, if it would.
pub(super) fn dear(tree: &Tree) -> Option<String> {
    let mut bill = Bill { size: tree.size(), layers: 0, dashes: 0.0, tile: false };
    bill.group(tree.root());
    if bill.layers > MOST_LAYERS {
        let layers = bill.layers;
        return Some(format!(
            "it has {layers} layers (what is half clear, masked, clipped or a pattern), and {MOST_LAYERS} are enough: \
             draw with plain colours"
        ));
    }
    if bill.tile {
        return Some("a tile of its pattern is larger than the drawing: draw it at its place".to_owned());
    }
    // A length that is no number ends nowhere either.
    if bill.dashes.is_nan() || bill.dashes > MOST_DASHES {
        return Some(format!("it has more than {MOST_DASHES} dashes: make them longer"));
    }
    None
}

/// What painting takes.
struct Bill {
    size: Size,
    layers: usize,
    dashes: f32,
    tile: bool,
}

impl Bill {
    fn group(&mut self, group: &Group) {
        self.layers += usize::from(group.should_isolate());
        if let Some(clip) = group.clip_path() {
            self.clip(clip);
        }
        if let Some(mask) = group.mask() {
            self.mask(mask);
        }
        for node in group.children() {
            match node {
                usvg::Node::Group(inner) => self.group(inner),
                usvg::Node::Path(path) => self.path(path),
                // Neither is let in.
                usvg::Node::Image(_) | usvg::Node::Text(_) => {}
            }
        }
    }

    fn clip(&mut self, clip: &ClipPath) {
        self.layers += 1;
        self.group(clip.root());
        if let Some(more) = clip.clip_path() {
            self.clip(more);
        }
    }

    fn mask(&mut self, mask: &Mask) {
        self.layers += 1;
        self.group(mask.root());
        if let Some(more) = mask.mask() {
            self.mask(more);
        }
    }

    fn path(&mut self, path: &Path) {
        let (fill, stroke) = (path.fill().map(|fill| fill.paint()), path.stroke().map(|stroke| stroke.paint()));
        for paint in [fill, stroke].into_iter().flatten() {
            if let Paint::Pattern(pattern) = paint {
                self.pattern(path, pattern);
            }
        }
        if let Some(dashes) = path.stroke().and_then(|stroke| stroke.dasharray()) {
            let period: f32 = dashes.iter().sum();
            self.dashes += length(path) / period * dashes.len() as f32;
        }
    }

    fn pattern(&mut self, path: &Path, pattern: &Pattern) {
        let (wider, taller) = path.abs_transform().pre_concat(pattern.transform()).get_scale();
        let (width, height) = (pattern.rect().width() * wider, pattern.rect().height() * taller);
        self.tile |= width > self.size.width() || height > self.size.height() || !(width * height).is_finite();
        self.layers += 1;
        self.group(pattern.root());
    }
}

/// A path's length by its points: never less than it is.
fn length(path: &Path) -> f32 {
    let points = path.data().points();
    points.windows(2).map(|pair| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y)).sum()
}
