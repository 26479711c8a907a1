function documentOfPage() {}
