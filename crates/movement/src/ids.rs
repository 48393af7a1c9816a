//! Numbers of what stands on a sheet, each of its own kind.

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub(crate) usize);
        impl $name {
            /// Its place in the sheet's order, from 0.
            pub fn index(self) -> usize {
                self.0
            }
        }
    };
}
pub(crate) use id;
id!(
    /// An arbor of this movement.
    ArborId
);
id!(
    /// A mesh of this movement.
    MeshId
);
id!(
    /// A witness of this movement.
    WitnessId
);
id!(
    /// A moment of this movement; the drop comes first.
    MomentId
);
