//! Numbered copies: each has a number of its own and a place where it belongs.

use crate::aids::plan::Quantity;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Copy {
    pub number: usize,
    pub of: usize,
    /// Empty where the policy names none.
    pub place: String,
}

/// No aid is issued in more copies at once: a slip of the finger should not fill a print room.
pub const MOST: usize = 500;

/// The copies of one aid, one where the policy asks for no number; or how many were asked for, if too many.
pub fn of(quantities: &[Quantity]) -> Result<Vec<Copy>, u64> {
    let asked: u64 = quantities.iter().map(|quantity| u64::from(quantity.count)).sum();
    if asked > MOST as u64 {
        return Err(asked);
    }
    let place = |quantity: &Quantity| quantity.place.clone().unwrap_or_default();
    let mut places: Vec<String> =
        quantities.iter().flat_map(|quantity| (0..quantity.count).map(move |_| place(quantity))).collect();
    if places.is_empty() {
        places.push(String::new());
    }
    let of = places.len();
    Ok(places.into_iter().enumerate().map(|(at, place)| Copy { number: at + 1, of, place }).collect())
}
