//! Teeth at meshes, as they are said and written.

use serde::{Serialize, Serializer};

/// Teeth moved at a mesh.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AtMesh {
    /// The mesh, as `driver>driven`.
    pub mesh: String,
    /// How many teeth further ahead the far side was left, as seen from where the train is held; never 0.
    pub teeth: i32,
}

/// One mesh is said plainly, several as a list.
pub(crate) fn one_or_several<S: Serializer>(
    shifted: &[AtMesh],
    serializer: S,
) -> Result<S::Ok, S::Error> {
    #[derive(Serialize)]
    struct Several<'a> {
        meshes: &'a [AtMesh],
    }
    match shifted {
        [one] => one.serialize(serializer),
        meshes => Several { meshes }.serialize(serializer),
    }
}
