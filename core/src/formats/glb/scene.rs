//! The node tree, its meshes and materials, and the one buffer behind them.

use super::super::PackageFault;
use super::super::numbers::mm;
use super::mesh::Mesh;
use crate::geom::Frame;
use crate::made::Made;
use crate::things::{Solid, Thing};
use gltf_json::accessor::{ComponentType, GenericComponentType, Type};
use gltf_json::buffer::{Stride, Target};
use gltf_json::extras::RawValue;
use gltf_json::material::{AlphaMode, PbrBaseColorFactor, PbrMetallicRoughness, StrengthFactor};
use gltf_json::mesh::{Mode, Primitive, Semantic};
use gltf_json::scene::UnitQuaternion;
use gltf_json::validation::{Checked, USize64};
use gltf_json::{Accessor, Asset, Buffer, Index, Material, Node, Root, Scene, buffer};
use serde_json::{Value, json};

/// −90° about x: z-up becomes Y-up (x, y, z → x, z, −y).
const UPRIGHT: [f32; 4] = [-core::f32::consts::FRAC_1_SQRT_2, 0.0, 0.0, core::f32::consts::FRAC_1_SQRT_2];

/// Colours of things, one after the other; red, green, blue, linear.
const THING_COLOURS: [[f32; 3]; 6] = [
    [0.10, 0.30, 0.55],
    [0.55, 0.18, 0.10],
    [0.12, 0.42, 0.22],
    [0.55, 0.42, 0.08],
    [0.35, 0.16, 0.45],
    [0.08, 0.42, 0.45],
];

/// The document and the buffer.
pub fn of(made: &Made) -> Result<(Root, Vec<u8>), PackageFault> {
    let mut b = Builder::default();
    let things_from = made.job.stocks.len();
    for s in &made.job.stocks {
        b.material(&s.profile.id, stock_colour(&s.profile.family));
    }
    let mut colours = 0;
    for (i, t) in made.job.things.iter().enumerate() {
        b.material(t.id(), THING_COLOURS[i % THING_COLOURS.len()]);
        colours += 1;
    }
    let mut shapes: Vec<(usize, Solid, Index<gltf_json::Mesh>)> = vec![];
    let mut holders = vec![];
    for (h, built) in made.holders.iter().enumerate() {
        let mut children = vec![];
        for p in made.parts.iter().filter(|p| p.holder == h) {
            let name = format!("{} {}", p.code, p.name);
            let mesh = b.mesh(&name, &Mesh::plate(&p.finished, p.thickness_mm), p.stock)?;
            let material = made.job.stocks.get(p.stock).map_or("", |s| s.material.as_str());
            let about = json!({ "kind": "part", "code": p.code, "name": p.name, "material": material,
                "thickness_mm": mm(p.thickness_mm) });
            children.push(b.leaf(name, mesh, &p.placement, &about)?);
        }
        for (k, berth) in built.assembly.berths.iter().enumerate() {
            let id = made.job.things.get(berth.thing).map_or("", Thing::id);
            let known = shapes.iter().find(|s| s.0 == berth.thing && s.1 == berth.solid).map(|s| s.2);
            let mesh = match known {
                Some(mesh) => mesh,
                None => {
                    let colour = (things_from + berth.thing).min((things_from + colours).saturating_sub(1));
                    let mesh = b.mesh(id, &Mesh::solid(&berth.solid), colour)?;
                    shapes.push((berth.thing, berth.solid.clone(), mesh));
                    mesh
                }
            };
            let about = json!({ "kind": "thing", "thing": id, "holder": built.letter, "pocket": k + 1 });
            let name = format!("{}.{} {id}", built.letter, k + 1);
            children.push(b.leaf(name, mesh, &berth.pose.moved(built.origin), &about)?);
        }
        let about = extras(&json!({ "kind": "holder", "family": built.family }))?;
        holders.push(b.root.push(Node {
            name: Some(format!("holder {}", built.letter)),
            children: (!children.is_empty()).then_some(children),
            extras: about,
            ..Node::default()
        }));
    }
    Ok(b.finish(holders))
}

/// What a sheet looks like; red, green, blue, linear. For telling parts from things, nothing more.
fn stock_colour(family: &str) -> [f32; 3] {
    match family {
        "plywood" => [0.72, 0.52, 0.30],
        "acrylic" => [0.60, 0.72, 0.78],
        "foam board" | "foam-board" => [0.85, 0.85, 0.83],
        _ => [0.45, 0.32, 0.20],
    }
}

fn extras(about: &Value) -> Result<gltf_json::Extras, PackageFault> {
    RawValue::from_string(about.to_string()).map(Some).map_err(|e| PackageFault::of(super::PATH, e))
}

/// Everything that grows while the tree is built.
#[derive(Default)]
struct Builder {
    root: Root,
    positions: Vec<u8>,
    normals: Vec<u8>,
    indices: Vec<u8>,
}

/// The three views of the buffer, in their order.
const POSITIONS: u32 = 0;
const NORMALS: u32 = 1;
const INDICES: u32 = 2;

impl Builder {
    fn material(&mut self, name: &str, [r, g, b]: [f32; 3]) {
        self.root.materials.push(Material {
            alpha_mode: Checked::Valid(AlphaMode::Opaque),
            name: Some(name.to_owned()),
            pbr_metallic_roughness: PbrMetallicRoughness {
                base_color_factor: PbrBaseColorFactor([r, g, b, 1.0]),
                metallic_factor: StrengthFactor(0.0),
                roughness_factor: StrengthFactor(0.8),
                ..PbrMetallicRoughness::default()
            },
            ..Material::default()
        });
    }

    fn mesh(&mut self, name: &str, m: &Mesh, material: usize) -> Result<Index<gltf_json::Mesh>, PackageFault> {
        if m.indices.is_empty() || m.positions.iter().flatten().any(|v| !v.is_finite()) {
            return Err(PackageFault::of(super::PATH, format!("{name} has no faces")));
        }
        let bounds = |pick: fn(f32, f32) -> f32, from: f32| {
            m.positions.iter().fold([from; 3], |a, p| [pick(a[0], p[0]), pick(a[1], p[1]), pick(a[2], p[2])])
        };
        let around = (bounds(f32::min, f32::INFINITY), bounds(f32::max, f32::NEG_INFINITY));
        let positions =
            self.accessor(POSITIONS, self.positions.len(), m.positions.len(), ComponentType::F32, Type::Vec3);
        if let Some(a) = self.root.accessors.last_mut() {
            (a.min, a.max) = (Some(json!(around.0)), Some(json!(around.1)));
        }
        let normals = self.accessor(NORMALS, self.normals.len(), m.normals.len(), ComponentType::F32, Type::Vec3);
        let indices = self.accessor(INDICES, self.indices.len(), m.indices.len(), ComponentType::U32, Type::Scalar);
        self.positions.extend(m.positions.iter().flatten().flat_map(|v| v.to_le_bytes()));
        self.normals.extend(m.normals.iter().flatten().flat_map(|v| v.to_le_bytes()));
        self.indices.extend(m.indices.iter().flat_map(|v| v.to_le_bytes()));
        let attributes = [(Semantic::Positions, positions), (Semantic::Normals, normals)];
        Ok(self.root.push(gltf_json::Mesh {
            name: Some(name.to_owned()),
            primitives: vec![Primitive {
                attributes: attributes.into_iter().map(|(s, i)| (Checked::Valid(s), i)).collect(),
                indices: Some(indices),
                material: Some(Index::new(material as u32)),
                mode: Checked::Valid(Mode::Triangles),
                targets: None,
                extensions: None,
                extras: None,
            }],
            weights: None,
            extensions: None,
            extras: None,
        }))
    }

    fn accessor(&mut self, view: u32, offset: usize, count: usize, of: ComponentType, type_: Type) -> Index<Accessor> {
        self.root.push(Accessor {
            buffer_view: Some(Index::new(view)),
            byte_offset: Some(USize64::from(offset)),
            count: USize64::from(count),
            component_type: Checked::Valid(GenericComponentType(of)),
            type_: Checked::Valid(type_),
            min: None,
            max: None,
            name: None,
            normalized: false,
            sparse: None,
            extensions: None,
            extras: None,
        })
    }

    fn leaf(
        &mut self,
        name: String,
        mesh: Index<gltf_json::Mesh>,
        at: &Frame,
        about: &Value,
    ) -> Result<Index<Node>, PackageFault> {
        let metres = at.origin / 1000.0;
        let columns = [at.x.extend(0.0), at.y.extend(0.0), at.z.extend(0.0), metres.extend(1.0)];
        let mut matrix = [0.0_f32; 16];
        for (place, v) in matrix.iter_mut().zip(columns.iter().flat_map(|c| c.to_array())) {
            // + 0 makes 0 of −0
            *place = v as f32 + 0.0;
        }
        let extras = extras(about)?;
        Ok(self.root.push(Node { name: Some(name), mesh: Some(mesh), matrix: Some(matrix), extras, ..Node::default() }))
    }

    fn finish(mut self, holders: Vec<Index<Node>>) -> (Root, Vec<u8>) {
        let top = self.root.push(Node {
            name: Some("space".to_owned()),
            children: (!holders.is_empty()).then_some(holders),
            rotation: Some(UnitQuaternion(UPRIGHT)),
            ..Node::default()
        });
        let scene = self.root.push(Scene { name: None, nodes: vec![top], extensions: None, extras: None });
        self.root.scene = Some(scene);
        self.root.asset =
            Asset { generator: Some(format!("berth {}", super::super::spec::VERSION)), ..Asset::default() };
        let mut at = 0;
        for (bytes, target, stride) in [
            (&self.positions, Target::ArrayBuffer, Some(Stride(12))),
            (&self.normals, Target::ArrayBuffer, Some(Stride(12))),
            (&self.indices, Target::ElementArrayBuffer, None),
        ] {
            self.root.buffer_views.push(buffer::View {
                buffer: Index::new(0),
                byte_length: USize64::from(bytes.len()),
                byte_offset: Some(USize64::from(at)),
                byte_stride: stride,
                name: None,
                target: Some(Checked::Valid(target)),
                extensions: None,
                extras: None,
            });
            at += bytes.len();
        }
        self.root.buffers.push(Buffer {
            byte_length: USize64::from(at),
            name: None,
            uri: None,
            extensions: None,
            extras: None,
        });
        (self.root, [self.positions, self.normals, self.indices].concat())
    }
}
