bayleaf.words("90",{"90":"2:e"});
