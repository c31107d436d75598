//! The columns of a walk chart: which areas and clothes of a person are drawn, and which of them together.
//!
//! In: the walk's profile. Out: a [`Reach`] for each person. Must never leave out anything that the hazard reaches.

use super::rows::Telling;
use super::voice::item_name;
use super::words::say;
use crate::policy::{Area, ItemId, RoleId, Shield};
use crate::walk::profile::Touches;
use crate::walk::state::FAR;
use crate::walk::{Nearest, Run, StepRef, Surface};

/// How near the hazard comes to one person.
pub struct Reach {
    pub who: RoleId,
    pub columns: Vec<Column>,
    /// Whatever the hazard never reaches, not after a slip either, in words.
    pub unreached: Vec<String>,
}

/// One or more surfaces with the same figures at every step.
pub struct Column {
    pub name: String,
    pub of: Of,
    /// Skin: the areas of the column.
    pub areas: Vec<Area>,
    /// By step of the procedure; none for steps that are never played.
    pub by_step: Vec<Option<Touches>>,
    /// What the level asks as planned; none for kit.
    pub margin: Option<u16>,
    /// What the level asks after none, one and two slips.
    pub asked: [Option<u16>; 3],
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// Whatever is outermost on the hands.
    Outermost,
    Hands,
    Face,
    OtherSkin,
    Clothes(ItemId),
}

impl Column {
    pub fn is_outermost(&self) -> bool {
        self.of == Of::Outermost
    }

    /// The least over all steps.
    pub fn least(&self) -> Touches {
        least(self.by_step.iter().flatten())
    }

    fn is_reached(&self) -> bool {
        self.least()[1] != FAR
    }

    pub fn is_of(&self, who: RoleId, surface: Surface) -> bool {
        match surface {
            Surface::Skin { who: of, area } => of == who && self.areas.contains(&area),
            Surface::Front { who: of, piece } | Surface::Back { who: of, piece } => {
                of == who && self.of == Of::Clothes(piece.item)
            }
            _ => false,
        }
    }
}

/// The nearest approaches that steps of a procedure bring to one person: the column, the step, and the walk's own account
/// of it where it is the nearest of the whole run.
pub struct Approach<'r> {
    pub column: usize,
    pub step: usize,
    pub known: Option<&'r Nearest>,
}

/// None where the hazard has come from elsewhere and no step brings it nearer.
pub fn approaches<'r>(reach: &Reach, run: &'r Run, steps: &[StepRef]) -> Vec<Approach<'r>> {
    let brought = |(at, column): (usize, &Column)| {
        let least = column.least()[0];
        if column.is_outermost() || least == FAR {
            return None;
        }
        let known = run.nearest.iter().find(|nearest| {
            let here = nearest.step.is_some_and(|step| steps.contains(&step));
            nearest.slips == 0 && nearest.distance == least && here && column.is_of(reach.who, nearest.surface)
        });
        let is_least = |touches: &Option<Touches>| touches.is_some_and(|touches| touches[0] == least);
        let falls = || column.by_step.iter().position(is_least).filter(|&step| step > 0);
        let step = known.and_then(|nearest| nearest.step).map(|at| at.step).or_else(falls)?;
        Some((least, Approach { column: at, step, known }))
    };
    let all: Vec<_> = reach.columns.iter().enumerate().filter_map(brought).collect();
    let nearest = all.iter().map(|(least, _)| *least).min();
    all.into_iter().filter(|(least, _)| Some(*least) == nearest).map(|(_, approach)| approach).collect()
}

fn least<'t>(all: impl Iterator<Item = &'t Touches>) -> Touches {
    all.fold([FAR; 3], |least, touches| std::array::from_fn(|slips| least[slips].min(touches[slips])))
}

pub fn reach(telling: &Telling, run: &Run, who: RoleId, steps: &[StepRef]) -> Reach {
    let mut all = vec![outermost(telling, run, who, steps)];
    all.extend(surfaces(telling, run, who, steps));
    let mut columns: Vec<Column> = Vec::new();
    let mut unreached = Vec::new();
    for column in all {
        let alike = |known: &&mut Column| {
            known.of == column.of && known.by_step == column.by_step && matches!(column.of, Of::Face | Of::OtherSkin)
        };
        if !column.is_reached() {
            unreached.extend(column.areas.iter().map(|area| area_name(telling, *area)));
            if let Of::Clothes(_) = column.of {
                unreached.push(column.name);
            }
        } else if let Some(known) = columns.iter_mut().find(alike) {
            known.areas.extend(column.areas);
        } else {
            columns.push(column);
        }
    }
    for column in columns.iter_mut().filter(|column| !column.areas.is_empty()) {
        column.name = area_names(telling, &column.areas).join(&telling.words.nouns.list_comma);
    }
    // Hands that are bare throughout are told once.
    if let Some(hands) = columns.iter().find(|column| column.of == Of::Hands)
        && columns[0].is_outermost()
        && hands.by_step == columns[0].by_step
    {
        columns.remove(0);
    }
    columns.iter_mut().for_each(|column| column.name = super::pattern::capital(&column.name));
    Reach { who, columns, unreached }
}

fn outermost(telling: &Telling, run: &Run, who: RoleId, steps: &[StepRef]) -> Column {
    let at = run.profile.people.iter().position(|&role| role == who);
    let touches = |step: &StepRef| Some(*run.profile.moments.get(step)?.hands.get(at?)?);
    Column {
        name: say(&telling.words.chart, "outermost", &[]),
        of: Of::Outermost,
        areas: Vec::new(),
        by_step: steps.iter().map(touches).collect(),
        margin: None,
        asked: [None; 3],
    }
}

/// A column for each area of skin and each of the own clothes: hands, face, other skin, clothes.
fn surfaces(telling: &Telling, run: &Run, who: RoleId, steps: &[StepRef]) -> Vec<Column> {
    let mut kinds: Vec<(Of, Option<Area>)> = Vec::new();
    for surface in &run.profile.guarded {
        let kind = match *surface {
            Surface::Skin { who: of, area } if of == who => (kind_of(area), Some(area)),
            Surface::Front { who: of, piece } if of == who => (Of::Clothes(piece.item), None),
            _ => continue,
        };
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    kinds.sort_by_key(|(of, area)| (rank(*of), *area));
    let column = |(of, area): (Of, Option<Area>)| {
        let mut column = Column {
            name: String::new(),
            of,
            areas: area.into_iter().collect(),
            by_step: Vec::new(),
            margin: asked(telling, of, 0),
            asked: std::array::from_fn(|slips| asked(telling, of, slips as u8)),
        };
        if let Of::Clothes(item) = of {
            column.name = item_name(telling.policy, item);
        }
        let mine: Vec<usize> =
            (0..run.profile.guarded.len()).filter(|&at| column.is_of(who, run.profile.guarded[at])).collect();
        let touches = |step: &StepRef| {
            let moment = run.profile.moments.get(step)?;
            Some(least(mine.iter().map(|&at| &moment.near[at])))
        };
        column.by_step = steps.iter().map(touches).collect();
        // What came near within a step and was cleaned in it, or just before the first.
        let theirs: Vec<&Nearest> = run.nearest.iter().filter(|nearest| column.is_of(who, nearest.surface)).collect();
        for nearest in theirs {
            let at = nearest.step.and_then(|step| steps.iter().position(|other| *other == step));
            let Some(Some(touches)) = at.and_then(|at| column.by_step.get_mut(at)) else { continue };
            for touches in touches.iter_mut().skip(nearest.slips) {
                *touches = nearest.distance.min(*touches);
            }
        }
        column
    };
    kinds.into_iter().map(column).collect()
}

fn kind_of(area: Area) -> Of {
    match area {
        Area::Hands => Of::Hands,
        area if area.is_face() => Of::Face,
        _ => Of::OtherSkin,
    }
}

fn rank(of: Of) -> u8 {
    match of {
        Of::Outermost => 0,
        Of::Hands => 1,
        Of::Face => 2,
        Of::OtherSkin => 3,
        Of::Clothes(_) => 4,
    }
}

/// What the level asks for; where it names no figure for face or clothes, that for skin.
fn asked(telling: &Telling, of: Of, slips: u8) -> Option<u16> {
    let level = telling.policy.level(telling.procedure.level?);
    let touches = |shield: Shield| {
        let margin = level.margins.iter().find(|margin| margin.shield == shield && margin.slips == slips)?;
        u16::try_from(margin.touches).ok()
    };
    match of {
        Of::Outermost => None,
        Of::Hands | Of::OtherSkin => touches(Shield::Skin),
        Of::Face => touches(Shield::Face).or(touches(Shield::Skin)),
        Of::Clothes(_) => touches(Shield::Clothes).or(touches(Shield::Skin)),
    }
}

pub fn area_name(telling: &Telling, area: Area) -> String {
    say(&telling.words.chart_areas, area.word(), &[])
}

/// `eyes`, `nose`, `mouth`; all of the face is `face`.
pub fn area_names(telling: &Telling, areas: &[Area]) -> Vec<String> {
    if areas.iter().filter(|area| area.is_face()).count() == 4 {
        return vec![area_name(telling, Area::Face)];
    }
    areas.iter().map(|&area| area_name(telling, area)).collect()
}
