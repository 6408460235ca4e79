"""Static files whose names carry a fingerprint, in JavaScript imports too."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class ModuleManifestStorage(CompressedManifestStaticFilesStorage):  # type: ignore[misc]
    """Rewrites ``import "./x.js"`` as well, so that no page mixes old and new modules."""

    support_js_module_import_aggregation = True
