//! The stage: a card's parts painted once, and each frame made of the one before where something changed.
//! Must not know when what moves; the plan says so.

use super::plan::{Look, Plan, Pose, Show};
use rayon::prelude::*;

use crate::draw::{Cel, DrawError, Laid, Node, PixelBox, Raster, Role, Scene, copy, lay, pose, to_pixels};

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
        let (mut still, scratch) = (clear()?, clear()?);
        let (drawn, layers) = rayon::join(|| to_pixels(scene, &mut still), || layers(scene));
        drawn?;
        let layers = layers?;
        let bounds = layers.iter().map(|layer| layer.cel.area()).reduce(|a, b| a.union(&b)).unwrap_or_default();
        Ok(Self { layers, bounds, still, content: clear()?, posed: clear()?, scratch, pose: None, changed: Vec::new() })
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
        for layer in &mut self.layers {
            let look = layer.role.map_or(Look::REST, |role| plan.look(role, layer.stages.len(), number));
            if layer.look == Some(look) {
                continue;
            }
            layer.look = Some(look);
            layer.prepare(look, &mut self.scratch)?;
            let seen = layer.laid().iter().map(Laid::area).reduce(|a, b| a.union(&b)).unwrap_or_default();
            add(&mut self.changed, layer.seen.union(&seen).intersection(&self.bounds));
            layer.seen = seen;
        }
        for area in &self.changed {
            // What has come to rest is the still card, to the last bit; around what has not, parts are laid anew.
            copy(&mut self.content, &self.still, area);
            let touched: Vec<&Layer> =
                self.layers.iter().filter(|layer| !layer.reach().intersection(area).is_empty()).collect();
            let laid: Vec<Laid<'_>> = touched.iter().flat_map(|layer| layer.laid()).collect();
            for layer in touched.iter().filter(|layer| layer.look != Some(Look::REST)) {
                lay(&mut self.content, &layer.reach().intersection(area), &laid);
            }
        }
        Ok(())
    }
}

impl Layer {
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

    /// What lies on the card for it, lowest first.
    fn laid(&self) -> Vec<Laid<'_>> {
        let Some(Look { by: moved, opacity, show }) = self.look else { return Vec::new() };
        if opacity == 0 {
            return Vec::new();
        }
        let stage = |at: usize| self.stages.get(at).and_then(|stand| stand.cel.as_ref());
        let whole = Laid { cel: &self.cel, moved, opacity };
        match show {
            Show::Whole => vec![whole],
            Show::Grown(_) => vec![Laid { cel: &self.grown, moved, opacity }],
            Show::Stage(at) => stage(at).map(|cel| Laid { cel, moved, opacity }).into_iter().collect(),
            Show::Over => {
                let under = stage(0).map(|cel| Laid { cel, moved, opacity: 255 });
                under.into_iter().chain([whole]).collect()
            }
        }
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

/// A scene's nodes, those next to each other in the same group as one layer.
fn layers(scene: &Scene) -> Result<Vec<Layer>, DrawError> {
    let group_of = |node: &usize| scene.groups.iter().position(|group| group.nodes.contains(node));
    let order: Vec<usize> = (0..scene.nodes.len()).collect();
    let runs: Vec<&[usize]> = order.chunk_by(|a, b| group_of(a) == group_of(b)).collect();
    let painted = runs.par_iter().map_init(
        || None,
        |scratch, run| {
            let nodes = run.iter().map(|&node| scene.nodes[node].clone()).collect::<Vec<_>>();
            let group = run.first().and_then(group_of).map(|at| &scene.groups[at]);
            let stages = group.map(|group| group.stages.clone()).unwrap_or_default();
            let scratch = match scratch {
                Some(scratch) => scratch,
                None => scratch.insert(Raster::new(scene.width, scene.height)?),
            };
            Ok(Layer {
                role: group.map(|group| group.role),
                cel: Cel::paint(&nodes, scratch)?,
                nodes,
                stages: stages.into_iter().map(|nodes| Stand { nodes, cel: None }).collect(),
                look: None,
                seen: PixelBox::default(),
                grown: Cel::default(),
            })
        },
    );
    painted.collect()
}
