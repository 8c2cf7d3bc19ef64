//! Names of files: safe on every system, whatever a caller called a material.

use crate::made::{Made, Part, Sheet};

/// Longest piece of a file name that comes from a material's name.
const MOST_CHARS: usize = 40;

/// ASCII letters, digits, dots and single hyphens; anything else becomes a hyphen.
pub fn slug(text: &str) -> String {
    let mut made = String::new();
    for c in text.chars() {
        let c = if c.is_ascii_alphanumeric() || c == '.' { c } else { '-' };
        if !(matches!(c, '-' | '.') && (made.is_empty() || made.ends_with(['-', '.']))) {
            made.push(c);
        }
    }
    made.truncate(MOST_CHARS);
    let made = made.trim_end_matches(['-', '.']);
    if made.is_empty() { "sheet".to_owned() } else { made.to_owned() }
}

/// Path of a part's own file.
pub fn of_part(part: &Part) -> String {
    format!("parts/{}.dxf", part.code)
}

/// Path of a sheet's file, without its ending: `sheets/01-birch-ply-3`.
pub fn of_sheet(made: &Made, sheet: &Sheet) -> String {
    let width = if made.sheets.len() > 99 { 3 } else { 2 };
    let material = made.job.stocks.get(sheet.stock).map_or("", |s| s.material.as_str());
    format!("sheets/{:0width$}-{}", sheet.number, slug(material))
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn no_name_leads_out_of_its_folder_or_hides() {
        for (given, want) in [
            ("birch-ply-3", "birch-ply-3"),
            ("../../etc/passwd", "etc-passwd"),
            ("C:\\x", "C-x"),
            (".hidden", "hidden"),
            ("a..b", "a.b"),
            ("Birke 3,2 mm", "Birke-3-2-mm"),
            ("链条", "sheet"),
            ("trailing. ", "trailing"),
        ] {
            assert_eq!(slug(given), want);
        }
        assert!(slug(&"x".repeat(300)).len() <= 40);
    }
}
