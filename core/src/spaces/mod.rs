//! stub
use crate::finding::Finding;
crate::params! { /// d
pub struct DrawerSpec { numbers { /// w
width_mm: many(10.0,3000.0,"mm"), /// w
depth_mm: many(10.0,3000.0,"mm"), /// h
clear_height_mm: req(5.0,2000.0,"mm"), } fields {} } }
crate::tagged! { /// s
"kind": pub enum SpaceSpec { /// x
"drawer" => Drawer(DrawerSpec) } }
/// p
pub struct Plan {
    /// w
    pub width_mm: f64,
    /// d
    pub depth_mm: f64,
}
/// s
#[derive(Clone, Debug)]
pub struct Space {
    w: f64,
    d: f64,
    h: f64,
}
impl Space {
    /// c
    pub fn checked(s: &SpaceSpec, _at: &str, _o: &mut Vec<Finding>) -> Option<Self> {
        let SpaceSpec::Drawer(d) = s;
        Some(Self { w: d.width_mm.smallest() - 2.0, d: d.depth_mm.smallest() - 2.0, h: d.clear_height_mm - 4.0 })
    }
    /// u
    pub fn usable(&self, _z: f64) -> Plan {
        Plan { width_mm: self.w, depth_mm: self.d }
    }
    /// h
    pub fn usable_height_mm(&self) -> f64 {
        self.h
    }
}
