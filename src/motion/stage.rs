//! The stage: a card's parts painted once, and each frame made of the one before where something changed.
//! Must not know when what moves; the plan says so.

use super::plan::{Look, Plan, Pose, Show};
use std::ops::Range;

use crate::draw::{Cel, DrawError, Group, Laid, Node, PixelBox, Raster, Role, Scene, Spans, pose, renew, to_pixels};

/// A card's parts and its last frame.
pub struct Stage {
    layers: Vec<Layer>,
    /// Where the card has paint.
    bounds: PixelBox,
    /// The card as it stands still.
    still: Raster,
    /// The card in its place, with its parts as they are on this frame.
    content: Raster,
    /// The same where it comes or leaves.
    posed: Raster,
    scratch: Raster,
    pose: Option<Pose>,
    changed: Vec<PixelBox>,
    /// What of the card is drawn anew for this frame, and what of that is not as on the still card.
    renewed: Spans,
    loose: Spans,
}

/// Nodes next to each other that move alike.
struct Layer {
    role: Option<Role>,
    cel: Cel,
    nodes: Vec<Node>,
    stages: Vec<Stand>,
    /// How it lies on the last frame, and where.
    look: Option<Look>,
    seen: PixelBox,
    /// What was painted for this frame alone.
    grown: Cel,
}

/// What stands in a layer's place, painted when it is first needed.
struct Stand {
    nodes: Vec<Node>,
    cel: Option<Cel>,
}

impl Stage {
    /// Paints a card's parts.
    ///
    /// # Errors
    /// [`DrawError::BadSize`] for an impossible frame.
    pub fn new(scene: &Scene) -> Result<Self, DrawError> {
        let clear = || Raster::new(scene.width, scene.height);
        let (mut still, content, posed, mut scratch) = (clear()?, clear()?, clear()?, clear()?);
        // The card as it stands still on one core, its parts on the other.
        let (whole, layers) = rayon::join(|| to_pixels(scene, &mut still), || layers(scene, &mut scratch));
        let layers = whole.and(layers)?;
        let bounds = layers.iter().map(|layer| layer.cel.area()).reduce(|a, b| a.union(&b)).unwrap_or_default();
        let (renewed, loose) = (Spans::default(), Spans::default());
        Ok(Self { layers, bounds, still, content, posed, scratch, pose: None, changed: Vec::new(), renewed, loose })
    }

    /// The next frame, and the rectangles in which it differs from the last one that was asked for.
    ///
    /// # Errors
    /// What can't be drawn.
    pub fn frame(&mut self, plan: &Plan, number: u32) -> Result<(&Raster, &[PixelBox]), DrawError> {
        self.act(plan, number)?;
        let now = plan.pose(number);
        let before = self.pose.replace(now);
        if now == Pose::REST {
            if before != Some(Pose::REST) {
                self.changed = vec![self.bounds];
            }
            return Ok((&self.content, &self.changed));
        }
        if before == Some(now) && self.changed.is_empty() {
            return Ok((&self.posed, &self.changed));
        }
        let (window, soft) = now.window(&self.bounds);
        pose(&mut self.posed, &self.content, &self.bounds, now.by, now.opacity, (&window, soft));
        self.changed = vec![self.bounds];
        Ok((&self.posed, &self.changed))
    }

    /// Brings the card's parts to where they are on a frame; `changed` is then what of the card differs.
    fn act(&mut self, plan: &Plan, number: u32) -> Result<(), DrawError> {
        self.changed.clear();
        self.renewed.clear();
        let mut reached = Vec::new();
        for layer in &mut self.layers {
            let look = layer.role.map_or(Look::REST, |role| plan.look(role, layer.stages.len(), number));
            if layer.look == Some(look) {
                continue;
            }
            add(&mut reached, layer.reach());
            layer.laid().for_each(|laid| laid.mark(&mut self.renewed, &self.bounds));
            let rests = layer.look.is_none_or(|before| before == Look::REST) || look == Look::REST;
            layer.look = Some(look);
            layer.prepare(look, &mut self.scratch)?;
            layer
                .laid()
                .chain(rests.then(|| layer.resting()))
                .for_each(|laid| laid.mark(&mut self.renewed, &self.bounds));
            let seen = layer.laid().map(|laid| laid.area()).reduce(|a, b| a.union(&b)).unwrap_or_default();
            add(&mut self.changed, layer.seen.union(&seen).intersection(&self.bounds));
            layer.seen = seen;
            add(&mut reached, layer.reach());
        }
        if reached.is_empty() {
            return Ok(());
        }
        // What has come to rest is the still card, to the last bit; where what has not lies or will, parts are laid anew.
        let meets = |layer: &&Layer| reached.iter().any(|area| !layer.reach().intersection(area).is_empty());
        let touched: Vec<&Layer> = self.layers.iter().filter(meets).collect();
        self.loose.clear();
        for layer in touched.iter().filter(|layer| layer.look != Some(Look::REST)) {
            layer.laid().chain([layer.resting()]).for_each(|laid| laid.mark(&mut self.loose, &self.bounds));
        }
        self.renewed.settle();
        self.loose.settle();
        let laid: Vec<Laid<'_>> = touched.iter().flat_map(|layer| layer.laid()).collect();
        renew(&mut self.content, &self.bounds, &self.still, (&self.renewed, &self.loose), &laid);
        Ok(())
    }
}

impl Layer {
    fn new(role: Option<Role>, cel: Cel, nodes: Vec<Node>, stages: Vec<Vec<Node>>) -> Self {
        let stages = stages.into_iter().map(|nodes| Stand { nodes, cel: None }).collect();
        Self { role, cel, nodes, stages, look: None, seen: PixelBox::default(), grown: Cel::default() }
    }

    /// Where it is, or will be when it has come to rest.
    fn reach(&self) -> PixelBox {
        self.cel.area().union(&self.seen)
    }

    /// Paints what a look needs and is not painted yet.
    fn prepare(&mut self, look: Look, scratch: &mut Raster) -> Result<(), DrawError> {
        let stage = match look.show {
            Show::Whole => None,
            Show::Stage(at) => Some(at),
            Show::Over => Some(0),
            Show::Grown(part) => {
                let nodes: Vec<Node> = self.nodes.iter().map(|node| grown(node, part)).collect();
                self.grown = Cel::paint(&nodes, scratch)?;
                None
            }
        };
        if let Some(stand) = stage.and_then(|at| self.stages.get_mut(at))
            && stand.cel.is_none()
        {
            stand.cel = Some(Cel::paint(&stand.nodes, scratch)?);
        }
        Ok(())
    }

    /// As it lies when it has come to rest.
    fn resting(&self) -> Laid<'_> {
        Laid { cel: &self.cel, moved: (0, 0), opacity: 255 }
    }

    /// What lies on the card for it, lowest first.
    fn laid(&self) -> impl Iterator<Item = Laid<'_>> {
        let Look { by: moved, opacity, show } = self.look.unwrap_or(Look { opacity: 0, ..Look::REST });
        let stage = |at: usize, opacity: u8| {
            let cel = self.stages.get(at).and_then(|stand| stand.cel.as_ref());
            cel.map(|cel| Laid { cel, moved, opacity })
        };
        let whole = Some(Laid { cel: &self.cel, moved, opacity });
        let both = match show {
            Show::Whole => [None, whole],
            Show::Grown(_) => [None, Some(Laid { cel: &self.grown, moved, opacity })],
            Show::Stage(at) => [None, stage(at, opacity)],
            Show::Over => [stage(0, 255), whole],
        };
        both.into_iter().flatten().filter(move |_| opacity > 0)
    }
}

/// A bar at a share of its length; never shorter than its ends are round.
fn grown(node: &Node, part: f32) -> Node {
    match node.clone() {
        Node::Rect { mut rect, radius, fill, stroke } => {
            rect.w = (rect.w * part).max((2.0 * radius).min(rect.w));
            Node::Rect { rect, radius, fill, stroke }
        }
        other @ (Node::Line { .. }
        | Node::Circle { .. }
        | Node::Arc { .. }
        | Node::Path { .. }
        | Node::Text { .. }
        | Node::Art { .. }) => other,
    }
}

/// Adds a rectangle to others that don't meet; with those that it meets it becomes one.
fn add(areas: &mut Vec<PixelBox>, area: PixelBox) {
    if area.is_empty() {
        return;
    }
    let mut all = area;
    while let Some(at) = areas.iter().position(|other| !other.intersection(&all).is_empty()) {
        all = all.union(&areas.swap_remove(at));
    }
    areas.push(all);
}

/// Nodes next to each other that move alike, and the group that says how.
type Run<'s> = (Range<usize>, Option<&'s Group>);

/// A scene's nodes, those next to each other in the same group together.
fn runs(scene: &Scene) -> Vec<Run<'_>> {
    let group_of = |node: &usize| scene.groups.iter().position(|group| group.nodes.contains(node));
    let order: Vec<(usize, Option<usize>)> = (0..scene.nodes.len()).map(|node| (node, group_of(&node))).collect();
    let runs = order.chunk_by(|a, b| a.1 == b.1).filter_map(|run| Some((run.first()?, run.last()?)));
    runs.map(|(first, last)| (first.0..last.0 + 1, first.1.map(|at| &scene.groups[at]))).collect()
}

/// A scene's layers, lowest first.
fn layers(scene: &Scene, scratch: &mut Raster) -> Result<Vec<Layer>, DrawError> {
    let layer = |(nodes, group): Run<'_>| {
        let nodes = scene.nodes[nodes].to_vec();
        let stages = group.map(|group| group.stages.clone()).unwrap_or_default();
        Ok(Layer::new(group.map(|group| group.role), Cel::paint(&nodes, scratch)?, nodes, stages))
    };
    runs(scene).into_iter().map(layer).collect()
}
