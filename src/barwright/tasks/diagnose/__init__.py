"""`diagnose`: what students answered comes back as what to teach again."""
