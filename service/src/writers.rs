//! Stands in for the writers until they land: nothing but the short report.

use berth_core::made::Made;
use berth_core::make::Refused;

pub fn package(_: &Made) -> Result<Vec<u8>, String> {
    Err("no writer yet".to_owned())
}
pub fn report(made: &Made) -> Vec<u8> {
    serde_json::to_vec(&serde_json::json!({"verdict": made.verdict, "findings": made.findings})).unwrap_or_default()
}
pub fn glb(_: &Made) -> Vec<u8> {
    vec![]
}
pub fn plan(_: &Made) -> String {
    String::new()
}
pub fn plan_refused(_: &Refused) -> Option<String> {
    None
}
