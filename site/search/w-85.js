bayleaf.words("85",{"85":"2:d"});
