bayleaf.words("pk",{"pk":"2:k"});
