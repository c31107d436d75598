//! Identifiers: places in the policy's tables.

use serde::Serialize;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
        pub struct $name(pub u16);

        impl $name {
            pub fn new(index: usize) -> $name {
                $name(index as u16)
            }
            pub fn index(self) -> usize {
                self.0 as usize
            }
        }
    )*};
}

ids! {
    CitationId HazardId PlaceId RoleId ItemId SurfaceId CleanerId ContainerId LevelId FactId QuestionId SequenceId
}
